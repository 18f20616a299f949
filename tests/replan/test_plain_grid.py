"""The axis without arrays answers as the one with them."""

from datetime import timedelta

import pytest

from scheduler.activities.build import build_network
from scheduler.replan.plain_grid import PlainGrid
from tests.random_shop import random_shop


@pytest.mark.parametrize("seed", [1, 4])
def test_every_slot_and_every_odd_moment(seed: int) -> None:
    """Starts and ends of all slots, and the first slot from moments on, just before and just after every start."""
    grid = build_network(random_shop(seed, 2, days=40)).grid
    plain = PlainGrid(grid.origin, grid.grid_min, tuple(grid.real.tolist()), grid.zone)
    assert [plain.start_of(s) for s in range(len(grid))] == [grid.start_of(s) for s in range(len(grid))]
    assert [plain.end_of(e) for e in range(len(grid) + 1)] == [grid.end_of(e) for e in range(len(grid) + 1)]
    for slot in range(len(grid)):
        for minutes in (-grid.grid_min - 1, -1, 0, 1):
            moment = (grid.start_of(slot) + timedelta(minutes=minutes)).astimezone(grid.zone)
            assert plain.first_from(moment) == grid.first_from(grid.minutes_at(moment))
    assert plain.first_from(grid.origin + timedelta(days=999)) == len(grid)
