"""A room is the whole network without some units: what is in use in it, and where a unit goes in it."""

from dataclasses import replace

import pytest

from scheduler.activities.build import build_network
from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.replan.binding import earliest_end
from scheduler.replan.ease import Ease
from scheduler.replan.extend import part_of
from scheduler.replan.relax import eases
from scheduler.replan.room import Room
from scheduler.replan.room_around import room_around, rooms_without
from scheduler.replan.seen_ahead import seen_ahead
from scheduler.replan.used import Used
from scheduler.search.improve import Improver
from scheduler.search.insertion import Inserter
from scheduler.search.state import State
from tests.random_shop import random_shop


def _placed(seed: int) -> tuple[Network, Placed]:
    net = build_network(random_shop(seed, 5)).network
    first = Improver(net, 1).first()
    assert first is not None
    return net, first.placed


def _counts(state: State, slots: int) -> list[list[int]]:
    """Use of every pool, class of bays and air space in each slot, in the unit of the network."""
    pools = [[planes.count_at(s) * unit for s in range(slots)] for planes, unit in zip(state.pools, state.unit_of, strict=True)]
    return pools + [[planes.count_at(s) for s in range(slots)] for planes in (*state.bays, *state.dust, *state.vapour)]


@pytest.mark.parametrize("seed", [2, 3])
def test_counters_of_a_room_are_those_of_the_network_with_the_others_in_it(seed: int) -> None:
    """Every unit in turn is the one that is out; the others are put into the whole network by the search itself."""
    net, placed = _placed(seed)
    for path in net.paths:
        state = State(net)
        inserter = Inserter(net, state)
        for other in net.paths:
            if other is not path:
                inserter.put(other, placed)
        room = room_around(net, placed, {path.unit}).inserter((part_of(net, path),))
        assert _counts(room.state, net.slots) == _counts(state, net.slots)
        assert all(room.state.hours.free(w) == state.hours.free(w) for w in range(len(net.workers)))
        assert room.state.left_ul == state.left_ul


@pytest.mark.parametrize("seed", [2, 3])
def test_a_room_in_a_room_is_the_room_of_both(seed: int) -> None:
    """Units that are put into a room take the same as if they had been in the network from the start."""
    net, placed = _placed(seed)
    first, second = net.paths[0], net.paths[-1]
    room = room_around(net, placed, {first.unit, second.unit})
    part = part_of(net, first)
    inserter = room.inserter((part,))
    (path,) = inserter.net.paths
    assert inserter.insert(path)
    both = room_around(inserter.net, inserter.state.placed(), (), room).inserter((part_of(net, second),))
    assert _counts(both.state, net.slots) == _counts(inserter.state, net.slots)


@pytest.mark.parametrize("seed", [2, 3])
def test_a_unit_that_is_given_back_leaves_what_it_would_have_without_it(seed: int) -> None:
    """One other after the other is taken out of the room of a unit and put back."""
    net, placed = _placed(seed)
    unit, *others = net.paths
    without = rooms_without(net, placed, unit.unit)
    part = part_of(net, unit)
    for other in (*others, *others):
        ours = without(other).inserter((part,)).state
        plain = room_around(net, placed, {unit.unit, other.unit}).inserter((part,)).state
        assert _counts(ours, net.slots) == _counts(plain, net.slots)
        assert all(ours.hours.free(w) == plain.hours.free(w) for w in range(len(net.workers)))
        assert (ours.left_ul, ours.hours.worn) == (plain.left_ul, plain.hours.worn)


def _tried(room: Room, ease: Ease | None, part: object) -> int | None:
    return earliest_end(room, part) if ease is None else earliest_end(ease.room(room), ease.part(part))  # type: ignore[arg-type]


@pytest.mark.parametrize("seed", [2, 3])
def test_a_unit_whose_waits_were_seen_ahead_goes_where_it_goes_without(seed: int) -> None:
    """In its room and in every room eased from it the unit is back no later for what was left out of its starts."""
    net, placed = _placed(seed)
    for path in net.paths[:3]:
        room, part = room_around(net, placed, {path.unit}), part_of(net, path)
        ahead = seen_ahead(net, part)
        assert any(a.starts != b.starts for a, b in zip(part.activities, ahead.activities, strict=True))
        for ease in (None, *eases(room, part)):
            assert _tried(room, ease, ahead) == _tried(room, ease, part)


def test_uses_in_a_finer_unit_come_to_the_same() -> None:
    """Counted in sixes and then in twos; the peak is the most at once, touching uses do not add up."""
    used = Used(6).plus(0b0111, 6).plus(0b0110, 12)
    fine = used.finer(4)
    assert (fine.unit, fine.peak, used.peak) == (2, 18, 18)
    assert fine.plus(0b1000, 2).peak == 18
    assert Used(1).plus(0b0011, 2).plus(0b1100, 3).peak == 3
    assert Used().peak == 0
    assert replace(Used(), unit=3).finer(2).unit == 1
