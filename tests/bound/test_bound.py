"""The bound itself: below the optimum where that is known, never raised by more capacity, in whole steps of the weights."""

import threading
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from model.tiny_networks import SLOTS, due, network, person, step
from model.tried import by_trying_everything, small
from random_shop import random_shop

from scheduler.activities.build import build_network
from scheduler.activities.network import Network
from scheduler.bound.bounds import tightened
from scheduler.bound.tighten import Tightener
from scheduler.search.bound import quick_bounds
from scheduler.search.prove import Effort, prove
from tests.bound.holds import some_schedules


@settings(max_examples=8, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_it_is_not_above_the_optimum_found_by_trying_everything(seed: int) -> None:
    """Networks of four steps whose starts are all tried; where nothing fits the relaxation may say so or not."""
    net = small(seed)
    least = by_trying_everything(net)
    tightener = Tightener(net)
    while not tightener.done and tightener.rounds < 30:
        tightener.step()
    assert least is None or (tightener.fits and tightener.bound <= least)


def test_some_of_these_optima_are_reached_and_above_nothing() -> None:
    """The test above would also pass with a bound of nothing: here it is the optimum, and that is late."""
    pairs = [(tightened(net, None, 30), by_trying_everything(net)) for net in map(small, range(7))]
    late = [(bound, least) for bound, least in pairs if least]
    assert len(late) > 2
    assert sum(bound == least for bound, least in late) > len(late) / 2


@pytest.mark.parametrize("seed", [1, 4])
def test_it_is_not_above_an_optimum_that_cp_sat_proves(seed: int) -> None:
    """Shops of three units with due dates that nobody can keep."""
    net = _overdue(build_network(random_shop(seed, 3)).network)
    answer = prove(net, "lateness", {}, None, Effort(20.0, 1, 2), threading.Event())
    assert answer.objective
    assert quick_bounds(net).lateness <= answer.objective
    assert tightened(net, None, 12) <= answer.objective


def _overdue(net: Network) -> Network:
    """Every order is due twelve days sooner."""
    return replace(net, dues=tuple(replace(d, late=tuple(days + 12 for days in d.late)) for d in net.dues))


@pytest.mark.parametrize("seed", [2])
def test_more_capacity_never_raises_it(seed: int) -> None:
    """Tightened to the end, with every place, tool and person there twice it is no higher than with one of each."""
    net = build_network(random_shop(seed, 4)).network
    twice = replace(
        net,
        classes=tuple(replace(c, places=2 * c.places) for c in net.classes),
        pools=tuple(replace(p, capacity=2 * p.capacity) for p in net.pools),
        workers=(*net.workers, *(replace(w, key=f"{w.key} too") for w in net.workers)),
    )
    scarce, plenty = Tightener(net), Tightener(twice)
    for tightener in (scarce, plenty):
        while not tightener.done and tightener.rounds < 40:
            tightener.step()
    assert plenty.best <= scarce.best + (1 << 12)


def test_one_person_for_two_units_is_seen() -> None:
    """Six slots of work each, one person: one of two units due after six slots comes six slots, so six days, late."""
    crew = (("hand", 1),)
    late = tuple(max(0, end - 6) for end in range(SLOTS + 1))
    net = network(
        step("A/work", 6, crew=crew),
        step("B/work", 6, crew=crew),
        dues=(due((0,), late), due((1,), late)),
        workers=(person("ada", "hand"),),
    )
    assert quick_bounds(net).lateness == 0
    assert tightened(net, None, 30) >= 3


@pytest.mark.parametrize(("weights", "least"), [((2, 2), 2), ((3, 3), 3)])
def test_it_is_rounded_up_to_what_weights_can_add_up_to(weights: tuple[int, int], least: int) -> None:
    """A bound between nothing and one step is one step of the weights."""
    tightener = Tightener(network(step("A/work"), dues=tuple(due((0,), (0,) * (SLOTS + 1), weight=w) for w in weights)))
    tightener.best = 1
    assert tightener.bound == least


def test_work_that_is_pinned_late_is_charged() -> None:
    """A unit that may only be worked on in slot 9 of a day that was due at slot 2 is late, whatever else is free."""
    late = tuple(max(0, end - 2) for end in range(SLOTS + 1))
    net = network(step("A/work", at=9), dues=(due((0,), late, weight=5),))
    assert tightened(net, None, 5) == 40


@pytest.mark.parametrize(("together", "least"), [(True, 3), (False, 5)])
def test_what_is_settled_is_charged(*, together: bool, least: int) -> None:
    """One unit came back 3 days late, another cannot but be 2 days late: 3 days together, 5 singly."""
    net = network(step("A/work", 4), dues=(due((0,), (2,) * (SLOTS + 1), settled=(3,), together=together),))
    assert tightened(net, None, 5) == least


def test_hours_of_overtime_are_capacity() -> None:
    """With every hour of the crew marked as overtime the bound is the same: it must not count on shifts being kept short."""
    net = build_network(random_shop(7, 4)).network
    extra = replace(net, overtime={w: worker.free for w, worker in enumerate(net.workers) if worker.is_person})
    assert tightened(extra, None, 15) == tightened(net, None, 15)
    (better, *_) = some_schedules(extra, 1, 2)
    assert tightened(extra, better.placed, 15) <= better.value.lateness


def test_a_unit_that_fits_nowhere_is_noticed() -> None:
    """No start is left: the relaxation says that there is no schedule."""
    row = step("A/work", 4)
    net = network(replace(row, starts={0: 0}), dues=(due((0,), (0,) * (SLOTS + 1)),))
    assert not Tightener(net).fits
