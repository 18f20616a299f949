"""What insertion makes is a solution of the model, with the objectives that are worked out outside."""

from dataclasses import replace

import pytest
from ortools.sat.python import cp_model
from random_shop import random_shop
from wild_shop import wild_shop

from scheduler.activities.build import build_network
from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.model.build import build_model
from scheduler.model.lateness import lateness
from scheduler.model.variables import Variables
from scheduler.search.improve import Improver


def _fixed(net: Network, placed: Placed) -> Variables:
    """The model with every decision as placed."""
    v = build_model(net)
    for start, slot in zip(v.start, placed.start, strict=True):
        v.model.add(start == slot)
    for (k, c), literal in v.in_class.items():
        v.model.add(literal == int(placed.bay_class[k] == c))
    for (i, skill, w), literal in v.by_skill.items():
        v.model.add(literal == int((w, skill) in placed.crew[i]))
    return v


def _least(v: Variables, goal: cp_model.LinearExpr) -> int:
    v.model.minimize(goal)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.cp_model_probing_level = 0
    assert solver.solve(v.model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@pytest.mark.parametrize(("wild", "seed", "units"), [(False, 1, 5), (False, 7, 8), (True, 3, 5), (True, 9, 5), (True, 15, 4)])
def test_the_model_accepts_what_insertion_made(wild: bool, seed: int, units: int) -> None:
    """Every variable fixed, the model is feasible, and lateness is that of the solution."""
    net = build_network((wild_shop if wild else random_shop)(seed, units)).network
    better = Improver(net, seed).first()
    assert better is not None
    v = _fixed(net, better.placed)
    assert _least(v, lateness(v)) == better.value.lateness


def test_what_does_not_fit_is_not_accepted() -> None:
    """The same solution with one step moved on top of the next is refused."""
    net = build_network(random_shop(1, 3)).network
    better = Improver(net, 1).first()
    assert better is not None
    start = list(better.placed.start)
    start[1] = start[2]
    v = _fixed(net, replace(better.placed, start=tuple(start)))
    assert cp_model.CpSolver().solve(v.model) == cp_model.INFEASIBLE
