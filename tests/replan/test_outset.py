"""A re-plan has somewhere to set out from: units come after each other where all cannot be in time, and bays open again."""

from datetime import datetime, timedelta

import pytest

from scheduler.activities.bay_classes import bay_classes
from scheduler.activities.build import build_network
from scheduler.activities.masks import below
from scheduler.activities.resources import crew_of
from scheduler.check import check_schedule
from scheduler.pipeline import Plan, plan
from scheduler.replan.choices import Wish, replan
from scheduler.replan.outset import prepared_again, set_out
from scheduler.replan.repair import NoRoom, Repaired
from scheduler.replan.way_on import stuck_units
from scheduler.schedule.schedule import Stay
from scheduler.search.settings import Settings
from scheduler.shop.calendar import Closure
from scheduler.shop.shop import Shop
from tests.random_shop import random_shop
from tests.replan.test_later import as_told


@pytest.fixture(scope="module")
def made() -> Plan:
    """Plan that people were told."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("scheduler.search.solve.SMALL", 0)
        return plan(random_shop(3, 8, days=40), Settings(moves=30))


def _closed(shop: Shop, what: str, which: str, begin: datetime, length: timedelta) -> Shop:
    row = Closure(what=what, which=which, closed_from=begin, closed_until=begin + length, reason="test")  # type: ignore[arg-type]
    return shop.model_copy(update={"closures": (*shop.closures, row)})


def _one_sprayer_left(made: Plan) -> Shop:
    first = next(w for w in made.schedule.work if w.work_id == "U6/coat-1")
    shop = as_told(made, first.end)
    sprayers = sorted({p.person_id for w in made.schedule.work if w.name.startswith("coat-") for p in w.people})
    for person in sprayers[:-1]:
        shop = _closed(shop, "person", person, first.end, timedelta(days=1))
    return shop


def test_units_that_cannot_all_be_in_time_are_prepared_again_as_few_as_need_it(made: Plan) -> None:
    """All but one of those who spray are away for a day: each unit alone would be in time for its next coat, three are not."""
    shop = _one_sprayer_left(made)
    begin = set_out(shop, made.schedule, 1)
    assert isinstance(begin.repaired, NoRoom)
    assert stuck_units(begin.built.network) == ()
    found = prepared_again(begin)
    assert isinstance(found.repaired, Repaired)
    more = found.shop.rework[len(shop.rework) :]
    assert len(more) == 1
    choices = replan(shop, made.schedule, Wish(Settings(moves=2))).choices
    assert all(check_schedule(found.shop, choice.plan.schedule).ok for choice in choices)


def test_where_one_alone_does_not_suffice_more_are_prepared_again_together(made: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same with a look at the first unit only, which alone is not enough; what is not needed of both is left out again."""
    begin = set_out(_one_sprayer_left(made), made.schedule, 1)
    monkeypatch.setattr("scheduler.replan.outset.MOST", 1)
    found = prepared_again(begin)
    assert isinstance(found.repaired, Repaired)
    more = {row.unit_id for row in found.shop.rework[len(begin.shop.rework) :]}
    assert len(more) >= 1
    assert isinstance(begin.repaired, NoRoom)
    assert more != {begin.repaired.units[0]}


def _stands_in_it(made: Plan) -> tuple[Stay, datetime]:
    """A stay in a bay for coats, and a moment in the middle of it at which nothing is done in that bay."""
    for stay in made.schedule.stays:
        now = (stay.start + (stay.end - stay.start) / 2).replace(minute=0, second=0, microsecond=0)
        busy = any(w.bay_id == stay.bay_id and w.start < now + timedelta(hours=4) and now < w.end for w in made.schedule.work)
        if stay.stage == "coat" and not busy and stay.start > made.shop.site.plan_from:
            return stay, now
    raise AssertionError


def test_a_unit_stays_in_a_bay_that_is_shut_now_until_it_opens(made: Plan) -> None:
    """Nothing is done in the bay meanwhile, nobody comes in, and what stands in it is neither lost nor carried through a wall."""
    stay, now = _stands_in_it(made)
    shop = _closed(as_told(made, now), "bay", stay.bay_id, now, timedelta(hours=4))
    found = replan(shop, made.schedule, Wish(Settings(moves=2)))
    for choice in found.choices:
        later = next(s for s in choice.plan.schedule.stays if (s.unit_id, s.stage) == (stay.unit_id, stay.stage))
        assert (later.bay_id, later.end > now + timedelta(hours=4)) == (stay.bay_id, True)
        assert choice.plan.report.ok


def test_a_bay_that_will_be_shut_is_empty_by_then(made: Plan) -> None:
    """The same closure from an hour later on: the schedule that was told has a unit in it, and the checker says so."""
    stay, now = _stands_in_it(made)
    shop = _closed(as_told(made, now), "bay", stay.bay_id, now + timedelta(hours=1), timedelta(hours=2))
    breaches = check_schedule(shop, made.schedule).breaches
    said = [b.says for b in breaches if b.rule == "bay_places" and b.says.startswith(f"{stay.unit_id} stands in {stay.bay_id}")]
    assert len(said) == 1
    assert "which is closed from" in said[0]


def test_what_is_shut_now_opens_and_what_will_be_shut_is_not_free(made: Plan) -> None:
    """On the grid: the first closure delays the work in the bay, the second takes its slots."""
    site, bay = made.shop.site, made.shop.bays[0].bay_id
    shop = _closed(made.shop, "bay", bay, site.plan_from - timedelta(hours=1), timedelta(hours=26))
    shop = _closed(shop, "bay", bay, site.plan_from + timedelta(days=7), timedelta(days=1))
    grid = crew_of(shop).grid
    number, group = next((c, g) for c, g in enumerate(bay_classes(shop, grid)) if g.bays == (bay,))
    assert grid.start_of(group.opens) >= site.plan_from + timedelta(hours=25)
    assert group.free.bit_count() < len(grid)
    assert group.free & below(group.opens) == below(group.opens)
    starts = [a.starts[number] for a in build_network(shop).network.activities if number in a.starts]
    assert starts
    assert all(mask & below(group.opens) == 0 for mask in starts)
