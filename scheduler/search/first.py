"""Orders in which all units are put in for a first solution, and others from which improvement may begin."""

from bisect import bisect_right
from collections.abc import Callable, Iterator
from random import Random

from scheduler.activities.masks import lowest
from scheduler.activities.network import Activity, Network, Path

AT_RANDOM = 20
Key = Callable[[Path], tuple[float, ...]]


class Urgency:
    """What the order of units may go by: when one would be late, how much that weighs, how much work it is.

    Parameters
    ----------
    net : Network
    """

    def __init__(self, net: Network) -> None:
        self.net = net
        self.due_of = {due.order: due for due in net.dues}
        self.slots_a_day = max(1.0, net.slots / (net.day[-1] + 1)) if net.day else 1.0
        self.work = {p.unit: sum(a.slots for a in net.activities[p.first : p.last + 1]) for p in net.paths}
        self.work_of_order: dict[str, int] = {}
        for path in net.paths:
            self.work_of_order[path.order] = self.work_of_order.get(path.order, 0) + self.work[path.unit]

    def late_from(self, path: Path) -> int:
        """First end at which a unit is late."""
        due = self.due_of.get(path.order)
        return min(bisect_right(due.late, 0), self.net.slots) if due else self.net.slots

    def weight(self, path: Path) -> float:
        """Weight of a day late; a little where there is none, so that it can be divided by."""
        due = self.due_of.get(path.order)
        return max(due.weight if due else 0, 0.1)

    def heavier_first(self, days: float) -> Key:
        """By due date, each weight bringing a unit forward by so many days."""
        return lambda p: (self.late_from(p) - days * self.slots_a_day * self.weight(p),)

    def lighter_work_first(self, share: float) -> Key:
        """By due date, later for much work of little weight."""
        return lambda p: (self.late_from(p) + share * self.work[p.unit] / self.weight(p),)

    def smaller_order_first(self, share: float) -> Key:
        """By due date, later for big orders of little weight."""
        return lambda p: (self.late_from(p) + share * self.work_of_order[p.order] / self.weight(p),)

    def less_slack_first(self) -> Key:
        """By due date less twice the work."""
        return lambda p: (self.late_from(p) - 2 * self.work[p.unit],)


def starts(net: Network) -> Iterator[list[Path]]:
    """Yield orders that beat due dates where not all can be in time; which of them does differs from shop to shop."""
    urgency = Urgency(net)
    keys = (urgency.heavier_first(3), urgency.heavier_first(12), urgency.lighter_work_first(3))
    for key in (*keys, urgency.smaller_order_first(1), urgency.less_slack_first()):
        yield sorted(net.paths, key=lambda path: (not path.since_start, key(path), path.first))


def orders(net: Network, random: Random) -> Iterator[list[Path]]:
    """Yield the units by due date, then by work, then in other orders.

    In each those that are on the site come first, and then those with a step that somebody has fixed: they cannot give way.
    """
    urgency = Urgency(net)
    turn = {path.unit: _turn(net, path) for path in net.paths}

    def by_due(path: Path) -> tuple[float, ...]:
        return (*turn[path.unit], urgency.late_from(path), -urgency.weight(path), path.first)

    def by_work(path: Path) -> tuple[float, ...]:
        return (*turn[path.unit], -urgency.work[path.unit], path.first)

    yield sorted(net.paths, key=by_due)
    yield sorted(net.paths, key=by_work)
    for _ in range(AT_RANDOM):
        yield sorted(net.paths, key=lambda path: (*turn[path.unit], random.random()))


def _turn(net: Network, path: Path) -> tuple[int, int]:
    """What is on the site, then what is fixed, by when it is, then the rest."""
    if path.since_start:
        return 0, 0
    fixed = [slot for a in net.activities[path.first : path.last + 1] if (slot := _only_start(a)) is not None]
    return (1, min(fixed)) if fixed else (2, 0)


def _only_start(activity: Activity) -> int | None:
    """Return the one slot that is left for a step to start in, in whatever bay; None if there are others."""
    union = 0
    for mask in activity.starts.values():
        union |= mask
    return lowest(union) if union.bit_count() == 1 else None
