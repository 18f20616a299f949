"""A time-indexed MILP in HiGHS: a binary a unit and start bucket, capacities a bucket; insertion completes its order.

What a unit takes when it starts in a bucket is measured by putting it alone into the shop from there on. That keeps every rule of
one unit and makes columns; what units do to one another is there as bay places, people by skill and tools in each bucket only. So
the solution is an order with dates, not a schedule: serial insertion in that order makes one, and the checker judges it.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from scheduler.activities.network import Network, Path
from scheduler.activities.subset import subset
from scheduler.search.insertion import Inserter
from scheduler.search.state import State
from tests.benchmarks.methods.dispatch import Dispatch
from tests.benchmarks.methods.result import Found

HALF_DAYS_UP_TO = 60
"""Units up to which a bucket is half a day of working slots; above that it is a day."""
MOST_COLUMNS = 5000
SHARE_FOR_COLUMNS = 0.4
"""Share of the time that may go into measuring columns."""

Use = tuple[str, int]
"""A resource and a bucket."""


@dataclass(frozen=True, slots=True)
class Column:
    """A unit started in a bucket: where its last step ends and what it takes."""

    path: Path
    bucket: int
    end: int
    uses: dict[Use, float]


def time_indexed(net: Network, limit_s: float, _seed: int) -> Found:
    """Build, solve, complete within about ``limit_s`` seconds; where that does not fit, the note says why."""
    found = Found()
    buckets = _buckets(net)
    expected = len(net.paths) * (max(buckets) + 1)
    if expected > MOST_COLUMNS:
        found.note = f"does not fit: {expected} columns"
        return found
    columns: list[Column] = []
    for column in _columns(net, buckets):
        columns.append(column)
        if found.passed_s() > SHARE_FOR_COLUMNS * limit_s:
            found.note = f"does not fit: {len(columns)} of {expected} columns in {found.passed_s():.0f} s"
            return found
    chosen = _solve(net, buckets, columns, limit_s - found.passed_s())
    if chosen is None:
        found.note = f"HiGHS found nothing for {len(columns)} columns"
        return found
    planned = {column.path.unit: (column.bucket, column.end) for column in chosen}
    dispatch = Dispatch(net, None)
    made = dispatch.run(lambda path: (not path.since_start, *planned[path.unit], path.first))
    if made is None:
        found.note = "its order could not be completed"
        return found
    found.better(*made)
    found.note = f"{len(columns)} columns"
    return found


def _buckets(net: Network) -> list[int]:
    """Bucket of each slot."""
    days = np.array(net.day)
    if len(net.paths) > HALF_DAYS_UP_TO:
        return np.unique(days, return_inverse=True)[1].tolist()
    length = {int(d): int((days == d).sum()) for d in np.unique(days)}
    seen: dict[int, int] = {}
    halves = []
    for day in net.day:
        seen[day] = seen.get(day, 0) + 1
        halves.append(2 * day + (seen[day] > length[day] / 2))
    return np.unique(np.array(halves), return_inverse=True)[1].tolist()


def _columns(net: Network, buckets: list[int]) -> Iterator[Column]:
    firsts = [buckets.index(b) for b in range(max(buckets) + 1)]
    for path in net.paths:
        alone = subset(net, {path.unit})
        body = 1 if path.late_pickup else 0
        for bucket, slot in enumerate(firsts):
            column = _alone_from(alone, body, slot)
            if column is None:
                break
            end, uses = column
            yield Column(path, bucket, end, _by_bucket(uses, buckets))


def _alone_from(alone: Network, body: int, slot: int) -> tuple[int, list[tuple[str, int, int, float]]] | None:
    """End and uses (resource, from slot, to slot, amount) of a unit that has the shop to itself from ``slot`` on."""
    first = alone.activities[body]
    later = replace(first, starts={c: mask >> slot << slot for c, mask in first.starts.items()})
    net = replace(alone, activities=(*alone.activities[:body], later, *alone.activities[body + 1 :]))
    state = State(net)
    if not Inserter(net, state).insert(net.paths[0]):
        return None
    uses: list[tuple[str, int, int, float]] = []
    for i, activity in enumerate(net.activities):
        begin, end = state.start[i], state.start[i] + activity.slots
        uses += [(f"skill {skill}", begin, end, n) for skill, n in activity.crew]
        uses += [(f"pool {d.pool}", begin, end, d.amount) for d in activity.demands]
        uses.append(("people", begin, end, sum(n for _, n in activity.crew)))
    for stay in net.stays:
        end = state.start[stay.last] + net.activities[stay.last].slots
        uses.append((f"bays {stay.classes}", state.start[stay.first], end, 1))
    last = net.paths[0].last
    return state.start[last] + net.activities[last].slots, uses


def _by_bucket(uses: list[tuple[str, int, int, float]], buckets: list[int]) -> dict[Use, float]:
    total: dict[Use, float] = {}
    for key, begin, end, amount in uses:
        for bucket in buckets[begin:end]:
            total[key, bucket] = total.get((key, bucket), 0.0) + amount
    return total


def _capacity(net: Network, key: str, slots: list[int]) -> float:
    """Slots that a resource gives in a bucket."""
    kind, _, name = key.partition(" ")
    mask = sum(1 << s for s in slots)
    if kind == "pool":
        return float(net.pools[int(name)].capacity * len(slots))
    if kind == "bays":
        classes = [int(c) for c in name.strip("(),").split(",")]
        return float(sum(net.classes[c].places * (net.classes[c].free & mask).bit_count() for c in classes))
    able = [w for w in net.workers if (name in w.skills if kind == "skill" else True)]
    return float(sum((w.free & mask).bit_count() for w in able))


def _solve(net: Network, buckets: list[int], columns: list[Column], limit_s: float) -> list[Column] | None:
    """Minimise weighted lateness; columns first, then one continuous variable for each order that is delivered together."""
    if limit_s <= 0:
        return None
    due_of = {due.order: due for due in net.dues}
    together = {due.order: len(columns) + n for n, due in enumerate(d for d in net.dues if d.together)}
    rows, lower, upper = _rows(net, buckets, columns, together)
    cost = np.zeros(len(columns) + len(together))
    for j, column in enumerate(columns):
        due = due_of[column.path.order]
        cost[j] = 1e-4 * column.end / net.slots + (0 if due.together else due.weight * due.late[column.end])
    for order, j in together.items():
        cost[j] = due_of[order].weight
    whole = np.r_[np.ones(len(columns)), np.zeros(len(together))]
    limits = Bounds(0, np.r_[np.ones(len(columns)), np.full(len(together), np.inf)])
    constraint = LinearConstraint(rows, lower, upper)
    answer = milp(cost, integrality=whole, bounds=limits, constraints=constraint, options={"time_limit": limit_s})
    if answer.x is None:
        return None
    return [column for column, taken in zip(columns, answer.x, strict=False) if taken > 0.5]


def _rows(net: Network, buckets: list[int], columns: list[Column], together: dict[str, int]) -> tuple[Any, Any, Any]:
    """Rows: each unit once, each resource a bucket, each order that is delivered together at least as late as its units."""
    number: dict[object, int] = {}
    entries: list[tuple[int, int, float]] = []
    low: list[float] = []
    high: list[float] = []

    def row(key: object, least: float, most: float) -> int:
        if key not in number:
            number[key] = len(number)
            low.append(least)
            high.append(most)
        return number[key]

    due_of = {due.order: due for due in net.dues}
    slots_of: list[list[int]] = [[] for _ in range(max(buckets) + 1)]
    for slot, bucket in enumerate(buckets):
        slots_of[bucket].append(slot)
    capacity: dict[Use, float] = {}
    for j, column in enumerate(columns):
        entries.append((row(column.path.unit, 1, 1), j, 1.0))
        for use, amount in column.uses.items():
            if use not in capacity:
                capacity[use] = _capacity(net, use[0], slots_of[use[1]])
            entries.append((row(use, -np.inf, capacity[use]), j, amount))
        order = column.path.order
        if order in together:
            entries.append((row(("late", column.path.unit), -np.inf, 0), j, float(due_of[order].late[column.end])))
    for path in net.paths:
        if path.order in together:
            entries.append((number["late", path.unit], together[path.order], -1.0))
    i, j, a = (np.array(part) for part in zip(*entries, strict=True))
    return coo_array((a, (i, j)), shape=(len(number), len(columns) + len(together))).tocsr(), np.array(low), np.array(high)
