"""A room counts what is taken once, and its state is that of the whole network with the others in it."""

import pytest

from scheduler.activities.build import build_network
from scheduler.replan.extend import part_of
from scheduler.replan.relax import eases
from scheduler.replan.room import room_around
from scheduler.search.improve import Improver
from scheduler.search.routes import Routes
from scheduler.search.state import State
from tests.random_shop import random_shop


@pytest.mark.parametrize("seed", [2, 3])
def test_counters_of_a_room_are_those_of_its_network(seed: int) -> None:
    """Pools and bays, in the room itself and in every room that is eased from it: none takes over what another has worked out."""
    net = build_network(random_shop(seed, 5)).network
    first = Improver(net, 1).first()
    assert first is not None
    path = net.paths[-1]
    room, part = room_around(net, first.placed, {path.unit}), part_of(net, path)
    for one in (room, *(ease.room(room) for ease in eases(room, part)), room):
        inserter = one.inserter((part,))
        plain = State(inserter.net, Routes(inserter.net))
        for ours, theirs in zip((*inserter.state.pools, *inserter.state.bays), (*plain.pools, *plain.bays), strict=True):
            assert (ours.capacity, ours.planes) == (theirs.capacity, theirs.planes)
