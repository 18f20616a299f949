"""The fewest pins to let go of, so that everything finds a place."""

from collections.abc import Collection
from dataclasses import replace
from typing import Final

from scheduler.activities.masks import below
from scheduler.activities.network import Activity, Network, meet
from scheduler.bound.fixed_steps import fixed_start, overload
from scheduler.replan.fitting import Fitting

PINNED: Final = "pinned_work"
MOST_SETS: Final = 24
Keys = frozenset[str]


def fewest_pins(net: Network, broken: Collection[str] = ()) -> tuple[Keys, ...]:
    """Sets of pinned steps, as few as there may be in a set, without which everything finds a place; empty if none was found.

    Where fixed steps together need more than there is, one of them has to go: only such are let go of, as long as there are any.

    Parameters
    ----------
    net : Network
    broken : collection of str
        Keys of steps whose pins leave no start whatever else is planned; they go in any case.
    """
    pins = [a.key for a in net.activities if fixed_start(a) is not None or a.key in broken]
    level, tried = [frozenset(broken)], 0
    while level and tried < MOST_SETS:
        found: list[Keys] = []
        deeper: list[Keys] = []
        for freed in level[: MOST_SETS - tried]:
            tried += 1
            rest = without_pins(net, freed)
            clash = overload(rest)
            if clash is None and Fitting(rest).fits():
                found.append(freed)
            clashing = pins if clash is None else [net.activities[i].key for i in clash.activities]
            deeper += [freed | {key} for key in clashing if key not in freed]
        if found:
            return tuple(found)
        level = list(dict.fromkeys(deeper))
    return ()


def without_pins(net: Network, keys: Collection[str]) -> Network:
    """Return the network with some steps pinned no more."""
    activities = tuple(_free(a, net.slots) if a.key in keys else a for a in net.activities)
    return replace(net, activities=activities)


def _free(activity: Activity, slots: int) -> Activity:
    windows = {**activity.windows, PINNED: dict.fromkeys(activity.windows[PINNED], below(slots))}
    return replace(activity, windows=windows, starts=meet(windows))
