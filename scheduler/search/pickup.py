"""Pick a unit up as late as it goes, and make sure that the customer can spare it and the yard has room."""

from bisect import bisect_right

from scheduler.activities.masks import lowest, span
from scheduler.search.chain import Chain, Jump, NoRoomError
from scheduler.search.presence import one_too_many
from scheduler.search.steps import YARD


def earliest_body(chain: Chain) -> int:
    """Slot before which the first step after a late pick-up cannot start."""
    route = chain.route
    if not route.path.late_pickup:
        return 0
    receive = route.steps[0]
    mask = receive.starts.get(YARD, 0)
    return lowest(mask) + receive.slots if mask else chain.state.net.slots


def pick_up(chain: Chain) -> Jump | None:
    """Give the pick-up of a unit that is placed otherwise its start.

    Returns
    -------
    Jump or None
        Where the first step after it has to go for a pick-up to be possible; None if all is well.

    Raises
    ------
    NoRoomError
        If there is no pick-up.
    """
    if chain.route.path.late_pickup:
        receive, latest = chain.route.steps[0], _last_pickup(chain)
        start = chain.last(receive, YARD, latest)
        if start < 0:
            return _pickup_from(chain, max(latest + 1, 0))
        chain.at[0] = start
        chain.ends[0] = chain.at[0] + receive.slots
    return _stay_away(chain)


def _last_pickup(chain: Chain) -> int:
    """Last start of the pick-up that the steps after it leave."""
    route = chain.route
    end = chain.at[route.body]
    for then, wait in route.pickup_waits:
        curve = wait.earliest.get(YARD)
        if curve is not None:
            end = min(end, bisect_right(curve, chain.at[then]) - 1)
    return end - route.steps[0].slots


def _pickup_from(chain: Chain, slot: int) -> Jump:
    """Send the first step after the pick-up to after the first pick-up from ``slot`` on."""
    receive = chain.route.steps[0]
    later = chain.first(receive, YARD, slot)
    if later >= chain.state.net.slots:
        raise NoRoomError
    return Jump(chain.route.body, later + receive.slots)


def _stay_away(chain: Chain) -> Jump | None:
    """Keep the number of units that are away from a customer or in the yard."""
    path, state = chain.route.path, chain.state
    mask = span(0 if path.since_start else chain.at[0], chain.ends[-1])
    for pool in path.present:
        clash = one_too_many(state, path, pool, mask)
        if clash and path.since_start:
            raise NoRoomError
        if clash:
            low = lowest(clash)
            until = low + lowest(~(clash >> low))
            return _pickup_from(chain, until) if path.late_pickup else Jump(chain.route.body, until)
    return None
