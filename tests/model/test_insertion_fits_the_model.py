"""What insertion makes is a solution of the model, with the objectives that are worked out outside."""

from dataclasses import replace

import pytest
from ortools.sat.python import cp_model
from random_shop import random_shop
from wild_shop import wild_shop

from model.tiny_networks import SLOTS, network, step
from scheduler.activities.build import build_network
from scheduler.activities.network import Network, Source
from scheduler.activities.placed import Placed
from scheduler.model.build import build_model
from scheduler.model.lateness import lateness
from scheduler.model.material import packs_opened
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
    for (i, s), drawn in v.draws.items():
        v.model.add(drawn == dict(placed.draws[i]).get(s, 0))
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
    """Every variable fixed, the model is feasible, and lateness and packs are those of the solution."""
    net = build_network((wild_shop if wild else random_shop)(seed, units)).network
    better = Improver(net, seed).first()
    assert better is not None
    v = _fixed(net, better.placed)
    assert _least(v, lateness(v)) == better.value.lateness
    v = _fixed(net, better.placed)
    assert _least(v, packs_opened(v)) == better.value.packs


def test_what_does_not_fit_is_not_accepted() -> None:
    """The same solution with one step moved on top of the next is refused."""
    net = build_network(random_shop(1, 3)).network
    better = Improver(net, 1).first()
    assert better is not None
    start = list(better.placed.start)
    start[1] = start[2]
    v = _fixed(net, replace(better.placed, start=tuple(start)))
    assert cp_model.CpSolver().solve(v.model) == cp_model.INFEASIBLE


def test_an_opened_pack_saves_one_of_the_day() -> None:
    """Two films of 1500 mL on one day need 3000 mL, three packs; with 1000 mL from an opened pack two are opened."""
    films = (step(f"{u}/coat", product="P", packs=2, volume_ml=1500.0) for u in "AB")
    sources = (Source("X", "P", 1, 0, SLOTS, opened_ml=1000.0), Source("L", "P", 9, 0, SLOTS))
    net = network(*films, sources=sources, usable_ml={"P": 1000.0})
    v = build_model(net)
    assert _least(v, packs_opened(v)) == 2
    v = build_model(replace(net, sources=sources[1:]))
    assert _least(v, packs_opened(v)) == 3


def test_rounding_never_makes_the_bound_of_packs_too_high() -> None:
    """Three films of a third of two packs fill exactly two: 3 x 666.666.. mL of 1000 mL each."""
    films = (step(f"{u}/coat", product="P", packs=1, volume_ml=2000 / 3) for u in "ABC")
    net = network(*films, sources=(Source("L", "P", 9, 0, SLOTS),), usable_ml={"P": 1000.0})
    v = build_model(net)
    assert _least(v, packs_opened(v)) == 2
