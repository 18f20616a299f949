"""Choices that the other core writes out are those that this one writes, and none is lost when it fails."""

from dataclasses import replace

import pytest

from scheduler.activities.build import build_network
from scheduler.activities.placed import Placed
from scheduler.activities.reread import reread
from scheduler.pipeline import NoScheduleError, Plan, plan
from scheduler.replan.room import KnownRoutes
from scheduler.replan.writer import Writer, is_worth_it
from scheduler.replan.writing import FEW, REPAIR, Basis, Choice, Found, write_out
from scheduler.search.bound import quick_bounds
from scheduler.search.settings import Settings
from tests.random_shop import random_shop


@pytest.fixture(scope="module")
def basis() -> Basis:
    """A plan that people were told, on its network."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("scheduler.search.solve.SMALL", 0)
        made: Plan = plan(random_shop(3, 8, days=40), Settings(moves=30))
    built = build_network(made.shop)
    told, bounds = reread(built, made.schedule).placed, quick_bounds(built.network)
    return Basis(made.shop, built, told, made.schedule, bounds, Settings(cores=2))


def _writer(basis: Basis) -> Writer:
    writer = Writer(beside=True)
    writer.write_from(basis, KnownRoutes(basis.built.network))
    return writer


def _alike(one: Choice, two: Choice) -> bool:
    rows = [choice.plan.schedule.model_copy(update={"provenance": None}) for choice in (one, two)]
    return rows[0] == rows[1] and (one.name, one.moved, one.changes) == (two.name, two.moved, two.changes)


def test_both_cores_write_the_same(basis: Basis) -> None:
    """Two choices that have come to the same solution: it is written once, each has its name."""
    with _writer(basis) as writer:
        waits = [writer.begin(Found(name, basis.told, 0.0)) for name in (REPAIR, FEW)]
        there, few = (wait() for wait in waits)
    assert _alike(write_out(basis, Found(REPAIR, basis.told, 0.0)), there)
    assert _alike(write_out(basis, Found(FEW, basis.told, 0.0)), few)


def test_what_the_other_core_does_not_bring_is_written_here(basis: Basis) -> None:
    """It is killed before it has written anything."""
    writer = _writer(basis)
    wait = writer.begin(Found(REPAIR, basis.told, 0.0))
    assert writer.other is not None
    writer.other.end()
    assert wait().plan.report.ok


def test_a_fault_there_is_met_again_where_it_can_be_told(basis: Basis) -> None:
    """Without stock no choice can be written; the message is that of this process."""
    bare = replace(basis.built.network, sources=tuple(replace(s, packs=0, gives_ul=0) for s in basis.built.network.sources))
    poor = replace(basis, built=replace(basis.built, network=bare))
    with _writer(poor) as writer:
        wait = writer.begin(Found(REPAIR, _undrawn(basis.told), 0.0))
        with pytest.raises(NoScheduleError, match="the stock does not go round"):
            wait()


def test_a_process_is_begun_for_a_large_shop_and_two_cores_only(basis: Basis, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is left of the schedule counts."""
    assert not is_worth_it(basis.earlier, Settings(cores=2))
    monkeypatch.setattr("scheduler.replan.writer.MANY", len(basis.earlier.work))
    assert is_worth_it(basis.earlier, Settings(cores=2))
    assert not is_worth_it(basis.earlier, Settings(cores=1))


def _undrawn(placed: Placed) -> Placed:
    return replace(placed, draws=tuple(() for _ in placed.draws))
