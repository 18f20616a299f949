"""Rounds of a repair: several units that cannot wait all get their turn, and who comes much later gives way if need be."""

from dataclasses import replace

import pytest

from scheduler.activities.build import build_network
from scheduler.activities.masks import below
from scheduler.activities.network import Network, Path, meet
from scheduler.activities.placed import Placed
from scheduler.replan.repair import Repaired, try_repair
from scheduler.replan.room import KnownRoutes
from scheduler.replan.rounds import FAR_DAYS, Rounds
from scheduler.replan.stand import Stander
from scheduler.search.improve import Improver
from scheduler.search.insertion import Inserter
from scheduler.search.state import State
from tests.random_shop import random_shop

UNITS = 12


@pytest.fixture(scope="module", params=(1, 3, 4, 8))
def told(request: pytest.FixtureRequest) -> tuple[Network, Placed]:
    """A shop as it was told, filled one unit after the other."""
    net = build_network(random_shop(request.param, UNITS, days=40)).network
    first = Improver(net, 1).first()
    assert first is not None
    return net, first.placed


def test_several_units_that_cannot_wait_all_get_their_turn(told: tuple[Network, Placed]) -> None:
    """The last three units have to be gone as early as three units go in an empty shop: each is, whatever order they have."""
    net, placed = told
    hurried = sorted(net.paths, key=lambda p: -placed.start[p.last])[:3]
    alone = Inserter(net, State(net))
    assert all(alone.insert(path) for path in hurried)
    ends = {path.unit: alone.state.start[path.last] for path in hurried}
    tight = net
    for path in hurried:
        tight = _must_end_by(tight, path, ends[path.unit] + 1)
    found = try_repair(tight, placed)
    assert isinstance(found, Repaired)
    assert all(found.placed.start[path.last] <= ends[path.unit] for path in hurried)


def test_who_comes_much_later_stands_once_for_all_rounds(told: tuple[Network, Placed]) -> None:
    """With nobody first, all stand where they were told; a second round leads to the same."""
    net, placed = told
    rounds = _rounds(net, placed)
    assert any(net.day[placed.start[p.first]] - net.day[0] >= FAR_DAYS for p in net.paths) == bool(rounds.far)
    for _ in range(2):
        assert rounds.run([]) == []
        assert rounds.fallen == {}
        assert rounds.state.placed().start == placed.start


def test_a_unit_to_come_that_finds_no_room_beside_much_later_ones_goes_before_them(told: tuple[Network, Placed]) -> None:
    """The last unit has to be gone by when the first is in an empty shop, first of all: those that come later fall instead."""
    net, placed = told
    last = max(net.paths, key=lambda p: placed.start[p.first])
    alone = Inserter(net, State(net))
    assert alone.insert(last)
    tight = _must_end_by(net, last, alone.state.start[last.last] + 1)
    rounds = _rounds(tight, placed)
    assert last in rounds.run([]) or rounds.state.start[last.last] == alone.state.start[last.last]
    assert last not in rounds.run([last])
    assert rounds.state.start[last.last] == alone.state.start[last.last]


def test_a_unit_on_the_site_is_not_given_up_while_much_later_ones_stand(told: tuple[Network, Placed]) -> None:
    """Packs suffice for it or for those that come much later, not for both: it goes first and gets what it needs."""
    net, placed = told
    far = _rounds(net, placed).far
    later = _drawn(placed, [p for p in net.paths if p.unit in far])
    lead = max(net.paths, key=lambda p: (p.unit not in far, len(_drawn(placed, [p]).keys() & later.keys())))
    needs = _drawn(placed, [lead])
    sources = tuple(replace(s, gives_ul=max(needs.get(n, 0), later.get(n, 0))) for n, s in enumerate(net.sources))
    paths = tuple(replace(p, since_start=True) if p is lead else p for p in net.paths)
    short = replace(net, sources=sources, paths=paths)
    lead = next(p for p in paths if p.unit == lead.unit)
    assert Inserter(short, State(short)).insert(lead)
    rounds = _rounds(short, placed)
    assert lead not in rounds.run([lead])
    assert lead.unit in rounds.state.present


def _drawn(placed: Placed, paths: list[Path]) -> dict[int, int]:
    drawn = dict[int, int]()
    for path in paths:
        for i in range(path.first, path.last + 1):
            for source, ul in placed.draws[i]:
                drawn[source] = drawn.get(source, 0) + ul
    return drawn


def _rounds(net: Network, placed: Placed) -> Rounds:
    routes = KnownRoutes(net)
    return Rounds(Stander(Inserter(net, State(net, routes), routes=routes), placed))


def _must_end_by(net: Network, path: Path, slot: int) -> Network:
    """The network in which a unit has to be gone by a slot."""
    last = net.activities[path.last]
    windows = {**last.windows, "release": {c: mask & below(slot) for c, mask in last.windows["release"].items()}}
    row = replace(last, windows=windows, starts=meet(windows))
    return replace(net, activities=tuple(row if i == path.last else a for i, a in enumerate(net.activities)))
