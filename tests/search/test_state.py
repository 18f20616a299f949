"""The mutable picture of a search: every counter is that of a recount, and undo is exact."""

from random import Random
from typing import Any

import pytest
from random_shop import random_shop
from wild_shop import wild_shop

from scheduler.activities.build import build_network
from scheduler.activities.masks import bits
from scheduler.activities.network import Path
from scheduler.activities.placed import Placed
from scheduler.search.holding import Holding
from scheduler.search.improve import Improver
from scheduler.search.state import UNPLACED, State
from scheduler.search.taking import add_up, hold
from search.recount import counts, fixed_uses, picture, recount

NETS = [(random_shop, 2, 6), (random_shop, 9, 7), (wild_shop, 3, 5), (wild_shop, 15, 6)]
IDS = [f"{make.__name__}-{seed}" for make, seed, _ in NETS]


@pytest.fixture(params=NETS, ids=IDS, scope="module")
def improver(request: pytest.FixtureRequest) -> Improver:
    """A search with a first solution."""
    make, seed, units = request.param
    found = Improver(build_network(make(seed, units)).network, seed)
    assert found.first() is not None
    return found


def test_every_counter_is_that_of_a_recount(improver: Improver) -> None:
    """After the first insertion and after a run of moves, kept and undone."""
    assert picture(improver.state) == recount(improver.net, improver.state)
    improver.run(lambda moves: moves / 25, lambda _better: None)
    assert picture(improver.state) == recount(improver.net, improver.state)


def test_no_capacity_is_ever_exceeded(improver: Improver) -> None:
    """Pools, bays and people, slot by slot; dust and vapour never share air in one slot."""
    state = improver.state
    net, slots = improver.net, improver.net.slots
    used = [counts(p, slots, unit) for p, unit in zip(state.pools, state.unit_of, strict=True)]
    used += [counts(p, slots) for p in state.bays]
    allowed = [p.capacity for p in net.pools] + [c.places for c in net.classes]
    for row, most, taken in zip(used, allowed, [r.taken for r in (*net.pools, *net.classes)], strict=True):
        assert all(n <= max(most, fixed) for n, fixed in zip(row, fixed_uses(taken, slots), strict=True))
    for dust, vapour in zip(state.dust, state.vapour, strict=True):
        assert not dust.over(0) & vapour.over(0)


def test_taking_units_out_and_putting_them_back_leaves_no_trace(improver: Improver) -> None:
    """Any units in any order, as they were placed."""
    before, placed = picture(improver.state), improver.state.placed()
    units = list(improver.net.paths)
    Random(1).shuffle(units)
    for path in units:
        improver.inserter.remove(path)
    assert set(improver.state.start) == {UNPLACED}
    fresh = picture(State(improver.net))
    assert {**picture(improver.state), "start": None} == {**fresh, "start": None}
    for path in reversed(units):
        improver.inserter.put(path, placed)
    assert picture(improver.state) == before


def test_a_unit_that_does_not_fit_changes_nothing(improver: Improver) -> None:
    """With every worker away a unit that was taken out finds no place, and nothing is left of the attempt."""
    state, path = improver.state, improver.net.paths[0]
    saved = state.save()
    improver.inserter.remove(path)
    away = Holding(runs=[(worker, 0, state.net.slots) for worker in range(len(state.net.workers))])
    add_up(state, away)
    hold(state, away, sign=1)
    before = picture(state)
    assert not improver.inserter.insert(path)
    assert picture(state) == before
    state.restore(saved)
    assert picture(state) == recount(improver.net, state)


def test_restoring_gives_back_the_saved_state(improver: Improver) -> None:
    """After several units have been moved about, all counters are as they were saved."""
    state, before = improver.state, picture(improver.state)
    saved = state.save()
    for path in improver.net.paths[:3]:
        improver.inserter.remove(path)
    for path in reversed(improver.net.paths[:3]):
        improver.inserter.insert(path)
    state.restore(saved)
    assert picture(state) == before


@pytest.mark.parametrize(("make", "seed", "units"), NETS, ids=IDS)
def test_the_same_seed_and_moves_give_the_same_solution(make: Any, seed: int, units: int) -> None:
    """Two searches of their own, and another seed that goes another way."""
    net = build_network(make(seed, units)).network

    def run(number: int) -> tuple[object, ...]:
        one = Improver(net, number)
        assert one.first() is not None
        one.run(lambda moves: moves / 20, lambda _better: None)
        return one.state.placed(), one.best

    assert run(5) == run(5)


def test_room_for_a_stay_is_a_free_place_in_every_slot_of_it(improver: Improver) -> None:
    """Against the mask of full slots, slot by slot, for every stay that the units have; what is shorter is no gap for them."""
    state, slots = improver.state, improver.net.slots
    stays = {(c, s.least) for route in improver.inserter.routes for s in route.segments if s.stay >= 0 for c in s.classes}
    assert max(least for _, least in stays) > 1
    for c, least in stays:
        full = [bool(state.taken_room(c) >> slot & 1) for slot in range(slots)]
        expected = {slot for slot in range(slots - least + 1) if not any(full[slot : slot + least])}
        assert set(bits(state.room_for(c, least))) == expected


def test_a_solution_that_is_gone_on_from_is_there_with_every_counter(improver: Improver) -> None:
    """Only what differs is exchanged: units with another start, people or packs are not said to be there, and then they are."""
    improver.run(lambda moves: moves / 15, lambda _better: None)
    first, best = improver.state.placed(), improver.best
    improver.run(lambda moves: (moves - 15) / 40, lambda _better: None)
    assert best is not None
    improver.adopt(best)
    assert improver.state.placed() == best.placed
    assert picture(improver.state) == recount(improver.net, improver.state)
    here = [improver.state.has(path, first) for path in improver.net.paths]
    assert here == [_same(path, first, best.placed) for path in improver.net.paths]


def _same(path: Path, one: Placed, two: Placed) -> bool:
    steps = range(path.first, path.last + 1)
    rows = [(one.start[i], one.crew[i], one.draws[i]) == (two.start[i], two.crew[i], two.draws[i]) for i in steps]
    return all(rows) and all(one.bay_class[k] == two.bay_class[k] for k in path.stays)
