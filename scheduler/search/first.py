"""Orders in which all units are put in for a first solution."""

from bisect import bisect_right
from collections.abc import Iterator
from random import Random

from scheduler.activities.network import Network, Path

AT_RANDOM = 20


def orders(net: Network, random: Random) -> Iterator[list[Path]]:
    """Yield the units by due date, then by work, then in other orders; those that are on the site come first in each."""
    due_of = {due.order: due for due in net.dues}

    def by_due(path: Path) -> tuple[float, ...]:
        due = due_of.get(path.order)
        late_from = bisect_right(due.late, 0) if due else net.slots
        return (not path.since_start, min(late_from, net.slots), -(due.weight if due else 0), path.first)

    def by_work(path: Path) -> tuple[float, ...]:
        slots = sum(a.slots for a in net.activities[path.first : path.last + 1])
        return (not path.since_start, -slots, path.first)

    yield sorted(net.paths, key=by_due)
    yield sorted(net.paths, key=by_work)
    for _ in range(AT_RANDOM):
        yield sorted(net.paths, key=lambda path: (not path.since_start, random.random()))
