"""Units on the site: how many of them the yard takes and each customer can spare at a time."""

from scheduler.activities.masks import span
from scheduler.activities.network import Path
from scheduler.search.state import State


def one_too_many(state: State, path: Path, pool: int, mask: int) -> int:
    """Slots of those in which a unit would be there that are one unit too many for a pool.

    A unit that is there since before the plan may overfill a pool beside others that are, which nobody can take back; but not
    beside one that comes later.

    Parameters
    ----------
    state : State
        Without the unit.
    path : Path
    pool : int
        One of those in which the unit is present.
    mask : int
        Slots in which it would be there.
    """
    clash = state.pools[pool].blocked(1) & mask
    return clash & _newcomers(state, pool) if clash and path.since_start else clash


def _newcomers(state: State, pool: int) -> int:
    """Slots in which somebody is there who was not when the plan began."""
    found = 0
    for number, other in enumerate(state.net.paths):
        if state.holdings[number] is not None and pool in other.present and not other.since_start:
            found |= span(state.start[other.first], state.start[other.last] + state.net.activities[other.last].slots)
    return found
