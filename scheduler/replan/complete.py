"""The last word on a quoted day: CP-SAT fits the units into what is free on an earlier one, or proves that there is none."""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.replan.extend import UnitPart
from scheduler.replan.filled import filled, starts_in
from scheduler.replan.quote import Answer, answer_of
from scheduler.replan.room import Room
from scheduler.replan.soonest import soonest
from scheduler.search.as_told import AsTold
from scheduler.search.narrow import narrow


@dataclass(frozen=True)
class Completed:
    """An answer with nothing moved, and whether every day before its own is ruled out, with all others and their people kept."""

    answer: Answer | None
    day_proven: bool


def ruled_out(room: Room, parts: Sequence[UnitPart], found: Answer | None) -> bool:
    """Whether waits, calendar, weather and air alone keep some unit from being back on a day before the one found."""
    net = filled(room, parts)
    return not narrow(net, starts_in(room, net, _day_before(net, found)))


def complete(room: Room, parts: Sequence[UnitPart], found: Answer | None, seed: int, limit_s: float | None) -> Completed:
    """Look for an earlier day than the one found.

    Parameters
    ----------
    room : Room
    parts : sequence of UnitPart
    found : Answer or None
        What insertion found.
    seed : int
    limit_s : float or None
        Seconds for the solver; None for a fixed count of its work, so that the answer can be repeated.

    Returns
    -------
    Completed
        Not proven where the time was up first.
    """
    net = filled(room, parts)
    starts = starts_in(room, net, _day_before(net, found))
    if not narrow(net, starts):
        return Completed(found, day_proven=True)
    placed, ended = soonest(net, starts, seed, limit_s)
    sooner = None if placed is None else _entered(room, parts, placed)
    return Completed(sooner or found, ended and (placed is None or sooner is not None))


def _day_before(net: Network, found: Answer | None) -> int:
    """Slot before which the day of an answer begins; the end of the plan where there is none."""
    return net.slots if found is None else bisect_left(net.day, net.day[found.last - 1])


def _entered(room: Room, parts: Sequence[UnitPart], placed: Placed) -> Answer | None:
    """Put the units where the solver has them, every rule looked at again; None where packs do not go round in its order."""
    inserter = room.inserter(parts)
    told = AsTold(inserter, placed)
    return answer_of(inserter, inserter.net.paths, 0) if all(told.put(path) for path in inserter.net.paths) else None
