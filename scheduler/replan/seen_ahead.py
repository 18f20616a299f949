"""A unit's starts without those from which its waits cannot be kept: looked at once, so that questions need not."""

from dataclasses import replace

from scheduler.activities.network import Network, meet
from scheduler.replan.extend import UnitPart, with_parts


def seen_ahead(net: Network, part: UnitPart) -> UnitPart:
    """Leave out starts that no room can make use of, as calendar, weather and waits alone say.

    Parameters
    ----------
    net : Network
        Of the shop.
    part : UnitPart
        Pools are those of the network.
    """
    from scheduler.search.foresight import Foresight

    alone = with_parts(replace(net, activities=(), paths=(), stays=(), lags=(), dues=(), rents=()), (part,))
    starts = Foresight(alone).starts(alone.paths[0], alone.lags)
    activities = tuple(replace(a, starts=left) for a, left in zip(part.activities, starts, strict=True))
    return replace(part, activities=activities)


def unseen(part: UnitPart) -> UnitPart:
    """Return a unit with all starts that its windows leave: its waits are about to change."""
    return replace(part, activities=tuple(replace(a, starts=meet(a.windows)) for a in part.activities))
