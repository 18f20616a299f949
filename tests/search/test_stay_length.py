"""What a stay takes at least is what its steps take one by one, and no schedule has a shorter one."""

import pytest

from scheduler.activities.build import build_network
from scheduler.search.improve import Improver
from scheduler.search.routes import Routes
from scheduler.search.stay_length import StayLength
from tests.random_shop import random_shop


def test_the_last_step_waits_for_calendar_and_for_the_curve() -> None:
    """Two slots of work, a wait of two slots, and no start before slot 7; none at all once the last start is passed."""
    curve = tuple(min(end + 2, 12) for end in range(13))
    rows = [({3: 0b111}, 2, ()), ({3: 1 << 7 | 1 << 9}, 1, ((0, {3: curve}),))]
    length = StayLength(rows, 12)
    assert [length.last_start(3, start) for start in (0, 3, 4, 5, 6)] == [7, 7, 9, 9, 12]
    assert length.last_start(4, 0) == 12


@pytest.mark.parametrize("seed", [2, 7])
def test_no_stay_of_a_schedule_is_shorter(seed: int) -> None:
    """In the class of bays where each unit is."""
    net = build_network(random_shop(seed, 8)).network
    improver = Improver(net, seed)
    assert improver.first() is not None
    start = improver.state.start
    for route in Routes(net).all():
        for segment in route.segments:
            first, last = (start[route.path.first + k] for k in (segment.first, segment.last))
            where = improver.inserter.class_of(route.path.first + segment.first)
            assert segment.length.last_start(where, first) <= last
