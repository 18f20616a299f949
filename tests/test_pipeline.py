"""The whole flow on random shops: whatever is planned passes the independent checker, and no bound is beaten."""

import threading

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.activities.build import build_network
from scheduler.check import check_schedule
from scheduler.pipeline import NoScheduleError, Plan, checked, plan
from scheduler.schedule.schedule import Status
from scheduler.search.clock import Clock
from scheduler.search.improve import Improver
from scheduler.search.prove import Effort, prove
from scheduler.search.settings import Settings
from scheduler.search.solve import solve
from tests.random_shop import random_shop
from tests.tiny_shop import LOTS, tiny_shop, with_row


@settings(max_examples=10, deadline=None, derandomize=True)
@given(seed=st.integers(0, 100_000), units=st.integers(3, 8))
def test_what_is_planned_passes_the_checker_and_beats_no_bound(seed: int, units: int) -> None:
    """Any random shop: no breach, goals as recomputed apart from the solver, every goal at or above its bound."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("scheduler.search.solve.SMALL", 0)
        _judge(plan(random_shop(seed, units), Settings(seed=seed, moves=15)))


def test_what_cp_sat_finds_and_proves_passes_the_checker_too() -> None:
    """The same with the counted proof after the moves."""
    _judge(plan(random_shop(1, 3), Settings(seed=1, moves=10)))


def _judge(made: Plan) -> None:
    report = check_schedule(made.shop, made.schedule)
    assert report.breaches == ()
    assert report.mismatched_goals == ()
    first = made.schedule.goals[0]
    assert (made.schedule.provenance.status is Status.OPTIMAL) == first.proven
    for goal in made.schedule.goals:
        assert goal.value == report.goals[goal.name]
        assert goal.bound is None or goal.bound <= goal.value + 1e-9


def test_same_seed_and_moves_give_the_same_schedule() -> None:
    """Counted moves know no wall clock."""
    network = build_network(random_shop(5, 8)).network
    runs = []
    for _ in range(2):
        improver = Improver(network, seed=7)
        assert improver.first() is not None
        improver.run(lambda moves: moves / 25, lambda _better: None)
        runs.append(improver.state.placed())
    assert runs[0] == runs[1]


def test_proof_agrees_with_improvement_on_a_small_shop() -> None:
    """CP-SAT proves the lateness that improvement finds (12 weighted days) and insertion's solutions fit its model."""
    network = build_network(random_shop(1, 6, days=21)).network
    improver = Improver(network, seed=1)
    assert improver.first() is not None
    improver.run(lambda moves: moves / 60, lambda _better: None)
    assert improver.best is not None
    answer = prove(network, "lateness", {}, improver.best.placed, Effort(60, 1, 4), threading.Event())
    assert answer.proven
    assert answer.objective == answer.bound <= improver.best.value.lateness


def test_a_unit_that_must_leave_too_early_is_named_with_the_rules_that_clash() -> None:
    """An infeasible shop is told from one for which no schedule was found, and says why."""
    shop = random_shop(3, 3)
    first = shop.units[0]
    hurried = first.model_copy(update={"must_leave_by": first.available_from})
    broken = shop.model_copy(update={"units": (hurried, *shop.units[1:])})
    with pytest.raises(NoScheduleError) as caught:
        plan(broken, Settings(time_limit_s=60))
    outcome = caught.value.outcome
    assert outcome.status is Status.INFEASIBLE
    assert outcome.clash is not None
    assert first.order_id in outcome.clash.orders
    assert "release" in outcome.clash.rules
    assert first.unit_id in outcome.clash.says


def test_an_interrupted_search_gives_the_best_so_far(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C sets the flag that the search looks at; the first schedule is there all the same."""
    monkeypatch.setattr(Clock, "over", lambda _self: 1.0)
    outcome = solve(build_network(random_shop(2, 6)).network, Settings(time_limit_s=60))
    assert outcome.placed is not None
    assert outcome.search_s < 30


def test_stock_that_does_not_go_round_in_the_end_is_named() -> None:
    """Placed with 30 cartridges and written out with 19, where 20 are needed: no schedule, and the rule and the coat are said."""
    asked = Settings(moves=2)
    outcome = solve(build_network(tiny_shop()).network, asked)
    assert outcome.placed is not None
    shop = tiny_shop(lots=with_row(LOTS, "lot_id", "A1", packs=19))
    with pytest.raises(NoScheduleError, match="lacks 1000 mL of lining") as raised:
        checked(shop, build_network(shop), outcome, outcome.placed, asked)
    assert raised.value.outcome.status is Status.UNKNOWN
    assert raised.value.outcome.clash is not None
    assert raised.value.outcome.clash.rules == ("cartridge_stock",)
