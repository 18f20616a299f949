"""Sweep lines over claims on a resource: where more is claimed than there is, and who overlaps whom."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from operator import attrgetter, itemgetter
from typing import Generic, TypeVar

_TOLERANCE = 1e-6
Holder = TypeVar("Holder")


@dataclass(frozen=True, slots=True)
class Claim(Generic[Holder]):
    """A share of a resource held for a time; ``holder`` is None where a closure holds it."""

    start: datetime
    end: datetime
    size: float
    holder: Holder | None


@dataclass(frozen=True, slots=True)
class Overload(Generic[Holder]):
    """A time in which more is claimed than there is: when it began, its highest load and who held it then."""

    at: datetime
    load: float
    holders: tuple[Holder, ...]


def overloads(claims: Iterable[Claim[Holder]], capacity: float) -> Iterator[Overload[Holder]]:
    """Yield one overload for each unbroken time in which the claims together exceed the capacity.

    Parameters
    ----------
    claims : iterable of Claim
        In any order. One that ends when another starts does not meet it.
    capacity : float
        In the unit of the claims' sizes.
    """
    worst: Overload[Holder] | None = None
    active: dict[int, Claim[Holder]] = {}
    for moment, events in groupby(_events(claims), key=itemgetter(0)):
        for _, starts, number, claim in events:
            if starts:
                active[number] = claim
            else:
                del active[number]
        load = sum(claim.size for claim in active.values())
        if load <= capacity + _TOLERANCE:
            if worst is not None:
                yield worst
            worst = None
        elif worst is None or load > worst.load:
            holders = tuple(claim.holder for claim in active.values() if claim.holder is not None)
            worst = Overload(moment if worst is None else worst.at, load, holders)


def _events(claims: Iterable[Claim[Holder]]) -> list[tuple[datetime, bool, int, Claim[Holder]]]:
    """Starts and ends in order of time; a claim of no length claims nothing."""
    lasting = [claim for claim in claims if claim.start < claim.end]
    events = [(c.end, False, i, c) for i, c in enumerate(lasting)] + [(c.start, True, i, c) for i, c in enumerate(lasting)]
    return sorted(events, key=itemgetter(0))


def overlaps(claims: Iterable[Claim[Holder]]) -> Iterator[tuple[Claim[Holder], Claim[Holder]]]:
    """Yield (earlier, later) for each claim that starts before the longest-running one before it has ended."""
    last: Claim[Holder] | None = None
    for claim in sorted(claims, key=attrgetter("start", "end")):
        if last is not None and claim.start < last.end:
            yield last, claim
        last = claim if last is None or claim.end > last.end else last


def meetings(ones: Iterable[Claim[Holder]], others: Iterable[Claim[Holder]]) -> Iterator[tuple[Claim[Holder], Claim[Holder]]]:
    """Yield each pair of a claim of the first kind and one of the second that share some time."""
    kinds = [(claim, kind) for kind, claims in enumerate((ones, others)) for claim in claims if claim.start < claim.end]
    active: tuple[list[Claim[Holder]], list[Claim[Holder]]] = ([], [])
    for claim, kind in sorted(kinds, key=lambda pair: pair[0].start):
        met = [other for other in active[1 - kind] if other.end > claim.start]
        active[1 - kind][:] = met
        active[kind].append(claim)
        yield from (((claim, other) if kind == 0 else (other, claim)) for other in met)
