"""From real time to slots: working time inward, closures outward, earliest starts up, latest starts down."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from random_shop import random_shop
from tiny_shop import SHIFTS, SITE, tiny_shop

from scheduler.activities.build import build_network
from scheduler.activities.resources import crew_of
from scheduler.activities.time_grid import TimeGrid, work_axis

QUICK = settings(max_examples=60, deadline=None)
START = datetime(2026, 6, 1, tzinfo=UTC)
MINUTES = st.integers(-200, 3000)


@st.composite
def grids(draw: st.DrawFn) -> TimeGrid:
    """Axes of working slots with gaps."""
    step = draw(st.sampled_from((5, 15, 20)))
    real = sorted(draw(st.sets(st.integers(0, 120), min_size=1, max_size=60)))
    return TimeGrid(START, step, np.array(real, dtype=np.int64), ZoneInfo("UTC"))


def _slots(grid: TimeGrid) -> list[tuple[int, int]]:
    return [(r * grid.grid_min, (r + 1) * grid.grid_min) for r in grid.real.tolist()]


@QUICK
@given(grid=grids(), a=MINUTES, length=st.integers(0, 700))
def test_inside_takes_whole_slots_and_touched_takes_parts(grid: TimeGrid, a: int, length: int) -> None:
    """A stretch gives people the slots that lie wholly in it and shuts every slot that it touches."""
    start, end = START + timedelta(minutes=a), START + timedelta(minutes=a + length)
    slots = list(enumerate(_slots(grid)))
    assert list(range(*grid.inside(start, end))) == [i for i, (x, y) in slots if a <= x and y <= a + length]
    assert list(range(*grid.touched(start, end))) == [i for i, (x, y) in slots if x < a + length and a < y and length > 0]


@QUICK
@given(grid=grids(), minutes=MINUTES)
def test_earliest_starts_are_rounded_up_and_latest_down(grid: TimeGrid, minutes: int) -> None:
    """No slot is used before its time; with no slot left the answer is n, with none before it is -1."""
    starts = [x for x, _ in _slots(grid)]
    assert int(grid.first_from(minutes)) == next((i for i, x in enumerate(starts) if x >= minutes), len(starts))
    assert int(grid.last_until(minutes)) == max((i for i, x in enumerate(starts) if x <= minutes), default=-1)


def test_the_axis_begins_at_the_next_slot_and_ends_before_the_horizon_does() -> None:
    """A plan from 06:07 to 07:53 in quarters has the six slots from 06:15 to 07:45."""
    first, last = START + timedelta(minutes=367), START + timedelta(minutes=473)
    grid = work_axis([(first, last)], first, last, 15, ZoneInfo("UTC"))
    assert (grid.start_of(0).hour, grid.start_of(0).minute) == (6, 15)
    assert len(grid) == 6
    assert grid.end_of(6) == START + timedelta(minutes=465)


@pytest.mark.parametrize(("day", "hours"), [((2025, 3, 30), 7), ((2025, 10, 26), 9)])
def test_a_shift_over_the_change_of_the_clocks_has_the_hours_that_pass(day: tuple[int, int, int], hours: int) -> None:
    """From 22:00 to 06:00 pass 7 h in the night in which the clock goes forward, 9 h when it goes back (EU rules)."""
    morning = datetime(*day, 6, tzinfo=ZoneInfo("Europe/Berlin"))
    evening = datetime(*day, 22, tzinfo=ZoneInfo("Europe/Berlin")) - timedelta(days=1)
    shifts = [{**SHIFTS[0], "weekdays": "sat", "starts": "22:00", "ends": "06:00", "break_starts": None, "break_ends": None}]
    crew = crew_of(tiny_shop(site={**SITE, "plan_from": evening, "plan_until": morning}, shifts=shifts))
    assert len(crew.grid) == hours * 4
    assert np.all(np.diff(crew.grid.real) == 1)
    assert all(worker.free == (1 << hours * 4) - 1 for worker in crew.workers)
    assert len(set(crew.grid.day.tolist())) == 2


def test_a_film_lies_outside_the_warmer_for_whole_slots() -> None:
    """A recapped cartridge cools for as long as the step is planned, not as long as it is reckoned: 50.6 min are an hour."""
    shop = random_shop(1, 8)
    built = build_network(shop)
    slots: dict[str, int] = {}
    for activity in built.network.activities:
        if activity.product:
            slots[activity.product] = max(slots.get(activity.product, 0), activity.slots)
    reckoned = max(s.minutes for r in built.routes.values() for s in r.steps if s.film and s.film.product_id == "lining")
    assert reckoned % shop.site.grid_min
    assert built.climates.film_min == {product: n * shop.site.grid_min for product, n in slots.items()}
