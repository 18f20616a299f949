"""Which rules clash: as few as possible, by the chains of the units where they suffice, else by CP-SAT without the others."""

from collections.abc import Callable, Iterable, Sequence
from typing import Final

from ortools.sat.python import cp_model

from scheduler.activities.leave_out import leave_out
from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.alone import stranded
from scheduler.model.build import MODEL_RULES, build_model
from scheduler.model.variables import Variables
from scheduler.search.clock import Clock
from scheduler.search.narrow import Starts, narrow
from scheduler.search.prove import read_solution
from scheduler.search.run_solver import run
from scheduler.search.smallest import Smallest, smallest_clash

ALWAYS_IN_CHAINS: Final = "step_order"
"""The rule that a chain cannot leave out."""
FEW: Final = 60
"""Activities up to which one worker of CP-SAT is quicker than several."""
MOST_STEPS: Final = 4.0
"""Deterministic time of CP-SAT for one question, so that also a counted run comes to an end."""
SMALL: Final = 260
"""Activities up to which it is asked whether fewer rules or orders clash as well."""


def infeasible(net: Network, without: Iterable[str], clock: Clock, workers: int) -> bool | None:
    """Whether there is no schedule without these rules, as CP-SAT says; None where it came to no end."""
    left_out = tuple(without)
    starts = [dict(a.starts) for a in net.activities] if not left_out else None
    if starts is not None and not narrow(net, starts):
        return True
    status, _, _ = _solved(net, left_out, starts, clock, workers)
    return None if status == cp_model.UNKNOWN else bool(status == cp_model.INFEASIBLE)


def some_schedule(net: Network, clock: Clock) -> Placed | None:
    """Any schedule that CP-SAT finds; None where there is none, or none was found in time."""
    starts = [dict(a.starts) for a in net.activities]
    if not narrow(net, starts):
        return None
    status, v, solver = _solved(net, (), starts, clock, 1)
    return read_solution(v, solver) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None


def _solved(
    net: Network, without: Sequence[str], starts: Starts | None, clock: Clock, workers: int
) -> tuple[cp_model.CpSolverStatus, Variables, cp_model.CpSolver]:
    v = build_model(net, without, starts)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers if len(net.activities) > FEW else 1
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.max_time_in_seconds = max(0.1, min(20.0, clock.left_s()))
    solver.parameters.max_deterministic_time = MOST_STEPS
    return run(solver, v.model, clock.interrupted), v, solver


def needed(items: list[str], still_clashes: Callable[[list[str]], bool | None]) -> list[str]:
    """Leave out one item after the other as long as the rest still clashes; what remains is needed, each for itself."""
    kept = list(items)
    for item in items:
        rest = [other for other in kept if other != item]
        if still_clashes(rest):
            kept = rest
    return kept


def rules_of(net: Network, clock: Clock, workers: int) -> Smallest:
    """Rules of a network without a schedule that clash: the chains leave out most of them in no time, CP-SAT says of the rest."""
    everything, names = list(MODEL_RULES), list(MODEL_RULES)

    def clash(kept: Sequence[str]) -> bool | None:
        return infeasible(net, [n for n in everything if n not in kept], clock, workers)

    if stranded(net):
        few = needed(everything, _strands(net))
        few += [ALWAYS_IN_CHAINS] if ALWAYS_IN_CHAINS not in few else []
        names = few if clash(few) else names
    known = needed(names, clash)
    if not known:
        return Smallest((_built_in(net),), proven=True)
    return smallest_clash(everything, known, clash) if len(net.activities) <= SMALL else Smallest(tuple(known), proven=False)


def _built_in(net: Network) -> str:
    """Rule that stands in the network itself, where it has no schedule though every rule of the model is left out."""
    return "bay_fit" if any(not stay.classes for stay in net.stays) else "shift_hours"


def _strands(net: Network) -> Callable[[list[str]], bool]:
    """Whether some rules alone leave a unit without a way."""
    return lambda kept: stranded(leave_out(net, set(MODEL_RULES) - set(kept))) is not None
