"""Each rule to its very limit: what just fits has a schedule, one slot or pack less has none, and without the rule it has."""

from collections.abc import Callable

import pytest
from ortools.sat.python import cp_model

from model.tiny_networks import CASES, MORE_CASES
from scheduler.activities.network import Network
from scheduler.model.build import MODEL_RULES, build_model

ALL = [*CASES.items(), *MORE_CASES.values()]
IDS = [*CASES, *MORE_CASES]


def _status(net: Network, without: tuple[str, ...] = ()) -> cp_model.CpSolverStatus:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    return solver.solve(build_model(net, without).model)


def test_every_rule_of_the_model_has_a_network_of_its_own() -> None:
    """None is forgotten."""
    assert set(CASES) == set(MODEL_RULES)


@pytest.mark.parametrize(("rule", "case"), ALL, ids=IDS)
def test_what_just_fits_has_a_schedule(rule: str, case: Callable[[int], Network]) -> None:
    """The model does not ask for more than the rule does."""
    assert _status(case(0)) == cp_model.OPTIMAL, rule


@pytest.mark.parametrize(("rule", "case"), ALL, ids=IDS)
def test_what_does_not_fit_has_none_and_the_rule_alone_forbids_it(rule: str, case: Callable[[int], Network]) -> None:
    """One less to spare; left out, the rule forbids nothing, and any other rule left out changes nothing."""
    net = case(-1)
    assert _status(net) == cp_model.INFEASIBLE
    assert _status(net, (rule,)) == cp_model.OPTIMAL


@pytest.mark.parametrize("rule", MODEL_RULES)
def test_a_rule_left_out_makes_nothing_impossible(rule: str) -> None:
    """The search for a clash leaves rules out: what all of them allow is allowed without one."""
    for case in CASES.values():
        assert _status(case(0), (rule,)) == cp_model.OPTIMAL
