"""The goals of a solution on the grid, in the order in which they count."""

from collections.abc import Mapping, Sequence
from typing import Final, NamedTuple

from scheduler.activities.ledger_input import begun_of, films_at, lots_of
from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.material.quick_count import count
from scheduler.search.rent import rent_cents


class Value(NamedTuple):
    """Goals of a solution in their usual order, lower is better; :func:`ranked` puts them into another one.

    ``missing_ul`` is material that the stock lacks, nothing in a schedule that can be carried out. ``spent_ppm`` are packs
    opened and what is purged at starts, in millionths of a pack; ``cost`` is overtime and rent in hundredths of the
    currency, ``finish`` slots summed over units, ``uneven`` slots between the most and the least loaded person.
    """

    missing_ul: int
    lateness: int
    spent_ppm: int
    cost: int
    finish: int
    uneven: int


GOALS: Final[Mapping[str, str]] = {
    "lateness": "lateness",
    "material": "spent_ppm",
    "cost": "cost",
    "finish": "finish",
    "even_load": "uneven",
}
"""Names of the goals in their usual order, with the field of a value that holds each."""


def goal_order(named: Sequence[str] = ()) -> tuple[str, ...]:
    """Put all goals in order: the named ones first, as named; the others break ties in their usual order."""
    return tuple(dict.fromkeys((*named, *GOALS)))


def ranked(value: Value, order: Sequence[str]) -> tuple[int, ...]:
    """Goals of a value in an order, after what cannot be done at all; tuples compare as the planner would."""
    return (value.missing_ul, *(getattr(value, GOALS[name]) for name in order))


def lateness(net: Network, start: Sequence[int]) -> int:
    """Weighted days late."""
    total = 0
    for due in net.dues:
        days = [due.late[start[i] + net.activities[i].slots] for i in due.members]
        days += due.settled
        if days:
            total += due.weight * (max(days) if due.together else sum(days))
    return total


def spent(net: Network, start: Sequence[int]) -> tuple[int, int]:
    """Microlitres that are missing, and packs opened with purges, in millionths of a pack."""
    return count(films_at(net, start), net.sheets, lots_of(net), begun_of(net))


def value_of(net: Network, placed: Placed) -> Value:
    """Work out every goal of a whole solution."""
    overtime, load = 0, [0] * len(net.workers)
    for i, activity in enumerate(net.activities):
        mask = ((1 << activity.slots) - 1) << placed.start[i]
        for worker, _ in placed.crew[i]:
            load[worker] += activity.slots
            overtime += (net.overtime.get(worker, 0) & mask).bit_count()
    cost = overtime * net.overtime_cents_a_slot + rent_cents(net, placed)
    people = [load[w] for w, worker in enumerate(net.workers) if worker.is_person]
    finish = sum(placed.start[p.last] + net.activities[p.last].slots for p in net.paths)
    uneven = max(people) - min(people) if people else 0
    missing_ul, spent_ppm = spent(net, placed.start)
    return Value(missing_ul, lateness(net, placed.start), spent_ppm, cost, finish, uneven)
