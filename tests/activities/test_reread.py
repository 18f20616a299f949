"""A schedule read back stands where it was realised from."""

from datetime import timedelta

import pytest

from scheduler.activities.build import build_network
from scheduler.activities.realise import realise
from scheduler.activities.reread import reread
from scheduler.pipeline import plan
from scheduler.search.settings import Settings
from tests.random_shop import random_shop


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_what_is_read_back_is_what_was_realised(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Identity: slots, bays, people and packs come back, and realising them again gives the same work and stays."""
    monkeypatch.setattr("scheduler.search.solve.SMALL", 0)
    shop = random_shop(seed, 8)
    made = plan(shop, Settings(seed=seed, moves=5))
    built = build_network(shop)
    found = reread(built, made.schedule)
    assert made.outcome.placed is not None
    assert found.left_out == {}
    assert found.placed.start == made.outcome.placed.start
    assert found.placed.bay_class == made.outcome.placed.bay_class
    assert found.placed.crew == made.outcome.placed.crew
    again = realise(shop, built, found.placed)
    assert (again.work, again.stays) == (made.schedule.work, made.schedule.stays)


def test_a_shop_that_begins_later_leaves_out_what_should_have_begun() -> None:
    """Two days on and nothing recorded: units whose first step lies behind are left out, with the step and its time."""
    shop = random_shop(4, 5)
    made = plan(shop, Settings(moves=1, workers=1))
    later = shop.site.plan_from + timedelta(days=2)
    moved = shop.model_copy(update={"site": shop.site.model_copy(update={"plan_from": later})})
    found = reread(build_network(moved), made.schedule)
    overdue = {w.unit_id for w in made.schedule.work if w.start < later}
    assert overdue
    assert overdue == set(found.left_out)
    assert all("is not done" in why for why in found.left_out.values())


def test_a_unit_that_the_schedule_does_not_have_is_new() -> None:
    """A schedule without one unit's work: that unit is new, the others stand."""
    shop = random_shop(4, 5)
    made = plan(shop, Settings(moves=1, workers=1)).schedule
    cut = made.model_copy(update={"work": tuple(w for w in made.work if w.unit_id != "U2")})
    found = reread(build_network(shop), cut)
    assert found.new == {"U2"}
    assert found.left_out == {"U2": "new: not in the schedule"}
