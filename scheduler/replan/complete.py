"""The last word on a quoted day: CP-SAT fits the units into what is free on an earlier one, or proves that there is none."""

import threading
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.replan.extend import UnitPart
from scheduler.replan.filled import Starts, filled, starts_in
from scheduler.replan.quote import Answer, answer_of
from scheduler.replan.room import Room
from scheduler.search.as_told import AsTold
from scheduler.search.narrow import narrow

MOST_STARTS: Final = 60_000
"""Starts of all steps in all classes of bays beyond which the model alone takes longer than anybody waits."""
COUNTED: Final = 0.2
"""Deterministic time of the solver where moves are counted, some seconds at the most."""


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
    if sum(mask.bit_count() for masks in starts for mask in masks.values()) > MOST_STARTS:
        return Completed(found, day_proven=False)
    placed, ended = _solved(net, starts, seed, limit_s)
    sooner = None if placed is None else _entered(room, parts, placed)
    return Completed(sooner or found, ended and (placed is None or sooner is not None))


def _day_before(net: Network, found: Answer | None) -> int:
    """Slot before which the day of an answer begins; the end of the plan where there is none."""
    return net.slots if found is None else bisect_left(net.day, net.day[found.last - 1])


def _solved(net: Network, starts: Starts, seed: int, limit_s: float | None) -> tuple[Placed | None, bool]:
    """Solve for the earliest last hand-over within some starts; the best that was found, and whether the search ended."""
    from ortools.sat.python import cp_model

    from scheduler.model.alike_units import keep_in_order
    from scheduler.model.build import build_model
    from scheduler.model.makespan import makespan
    from scheduler.search.prove import Effort, read_solution, solver_of
    from scheduler.search.run_solver import run

    v = build_model(net, within=starts)
    keep_in_order(v)
    v.model.minimize(makespan(v))
    solver = solver_of(Effort(limit_s or 0.0, seed, 1, COUNTED if limit_s is None else None))
    solver.parameters.linearization_level = 0
    status = run(solver, v.model, threading.Event())
    there = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return read_solution(v, solver) if there else None, status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)


def _entered(room: Room, parts: Sequence[UnitPart], placed: Placed) -> Answer | None:
    """Put the units where the solver has them, every rule looked at again; None where packs do not go round in its order."""
    inserter = room.inserter(parts)
    told = AsTold(inserter, placed)
    return answer_of(inserter, inserter.net.paths, 0) if all(told.put(path) for path in inserter.net.paths) else None
