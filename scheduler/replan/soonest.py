"""CP-SAT on a few units: the earliest that they can all be handed back, and whether that is proven."""

import threading
from typing import Final

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.replan.filled import Starts

MOST_STARTS: Final = 60_000
"""Starts of all steps in all classes of bays beyond which the model alone takes longer than anybody waits."""
COUNTED: Final = 0.2
"""Deterministic time of the solver where moves are counted, some seconds at the most."""


def soonest(net: Network, starts: Starts, seed: int, limit_s: float | None) -> tuple[Placed | None, bool]:
    """Solve for the earliest last hand-over within some starts.

    Parameters
    ----------
    net : Network
    starts : list of dict of int to Mask
        Starts that are left of each activity by bay class.
    seed : int
    limit_s : float or None
        Seconds for the solver; None for a fixed count of its work, so that the answer can be repeated.

    Returns
    -------
    (Placed or None, bool)
        The best that was found, and whether the search came to its end: then nothing is sooner.
    """
    if sum(mask.bit_count() for masks in starts for mask in masks.values()) > MOST_STARTS:
        return None, False
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
