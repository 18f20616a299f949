"""Days later: what has happened is history, and a plan that still works stays as it was told."""

from datetime import datetime, timedelta

import pytest

from scheduler.activities.build import build_network
from scheduler.check import check_schedule
from scheduler.pipeline import Plan, plan
from scheduler.record.warming import warming_now
from scheduler.replan.choices import Wish, replan
from scheduler.replan.way_on import stuck_units
from scheduler.replan.writing import REPAIR
from scheduler.search.settings import Settings
from scheduler.shop.calendar import Closure
from scheduler.shop.shop import Shop
from tests.as_told import begun_by
from tests.random_shop import random_shop


@pytest.fixture(scope="module")
def made() -> Plan:
    """Plan that people were told."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("scheduler.search.solve.SMALL", 0)
        return plan(random_shop(3, 8, days=40), Settings(moves=30))


def as_told(made: Plan, now: datetime) -> Shop:
    """The shop at a moment if everything went as it was told; what has begun is under way."""
    done = begun_by(made.schedule, now)
    warming = warming_now(made.shop, made.schedule, {(d.unit_id, d.step) for d in done}, now)
    site = made.shop.site.model_copy(update={"plan_from": now})
    return made.shop.model_copy(update={"site": site, "done": done, "warming": warming})


@pytest.mark.parametrize("hours", [24, 31, 52, 76, 100, 147])
def test_a_plan_that_went_as_told_goes_on_as_told(made: Plan, hours: int) -> None:
    """At any moment of the first week: nothing is broken, the repair moves nobody, and the checker takes it."""
    shop = as_told(made, made.shop.site.plan_from + timedelta(hours=hours))
    found = replan(shop, made.schedule, Wish(Settings(moves=2)))
    assert found.broken == {}
    repaired = found.choices[0]
    assert (repaired.name, repaired.moved, repaired.changes.units) == (REPAIR, (), ())
    assert repaired.changes.dates == ()
    assert check_schedule(shop, repaired.plan.schedule).ok


def test_where_all_units_are_handed_back_there_is_nothing_to_move(made: Plan) -> None:
    """The last report of a run: three choices that are alike, and no fault."""
    shop = as_told(made, max(work.end for work in made.schedule.work))
    found = replan(shop, made.schedule, Wish(Settings(moves=2)))
    assert [choice.moved for choice in found.choices] == [(), (), ()]
    assert all(choice.plan.report.ok for choice in found.choices)


def test_who_has_left_the_crew_is_replaced_where_somebody_else_can(made: Plan) -> None:
    """A name is gone from the table of the crew: nobody is left out of a step for it."""
    shop = as_told(made, made.shop.site.plan_from)
    helpers = [p for p in shop.crew if sum(set(p.skills) <= set(q.skills) for q in shop.crew) > 1]
    gone = next(p.person_id for p in helpers if any(p.person_id in {a.person_id for a in w.people} for w in made.schedule.work))
    tables = {name: getattr(shop, name) for name in Shop.model_fields}
    shop = Shop.model_validate(tables | {"crew": tuple(p for p in shop.crew if p.person_id != gone)})
    found = replan(shop, made.schedule, Wish(Settings(moves=2)))
    assert all(choice.plan.report.ok for choice in found.choices)


def test_cartridges_that_lie_in_a_warmer_are_not_forgotten(made: Plan) -> None:
    """The same moment with empty warmers: a coat of that morning cannot stand, and the rule is named."""
    coat = min((w for w in made.schedule.work if w.draws and any(d.loaded_at for d in w.draws)), key=lambda w: w.start)
    now = coat.start - timedelta(minutes=15)
    shop = as_told(made, now)
    assert (coat.unit_id, coat.name) in {(w.unit_id, w.step) for w in shop.warming}
    bare = shop.model_copy(update={"warming": ()})
    found = replan(bare, made.schedule, Wish(Settings(moves=2)))
    assert "warm_cartridges" in str(found.broken[coat.unit_id])


def test_the_checker_believes_in_no_load_that_nobody_knows_of(made: Plan) -> None:
    """A schedule that rests on cartridges loaded before it begins is refused by a shop that does not have them in its warmers."""
    coat = min((w for w in made.schedule.work if w.draws and any(d.loaded_at for d in w.draws)), key=lambda w: w.start)
    shop = as_told(made, coat.start - timedelta(minutes=15))
    schedule = replan(shop, made.schedule, Wish(Settings(moves=2))).choices[0].plan.schedule
    assert check_schedule(shop, schedule).ok
    breaches = check_schedule(shop.model_copy(update={"warming": ()}), schedule).breaches
    assert {b.rule for b in breaches} == {"warm_cartridges"}
    assert "nothing says that it is" in breaches[0].says


def test_a_unit_that_would_be_too_late_for_its_next_coat_is_prepared_again(made: Plan) -> None:
    """The site is shut from the end of a first coat until its recoat window is over: there is no other way on."""
    first = min((w for w in made.schedule.work if w.name == "coat-1" and _has_next(made, w.unit_id)), key=lambda w: w.end)
    shop = as_told(made, first.end)
    shut = Closure(what="site", closed_from=first.end, closed_until=first.end + timedelta(days=8), reason="storm")  # type: ignore[arg-type]
    shop = shop.model_copy(update={"closures": (*shop.closures, shut)})
    assert first.unit_id in stuck_units(build_network(shop).network)
    found = replan(shop, made.schedule, Wish(Settings(moves=2)))
    assert first.unit_id in {row.unit_id for row in found.shop.rework}
    assert found.choices[0].plan.report.ok
    assert any(w.unit_id == first.unit_id and w.name.endswith("-r1") for w in found.choices[0].plan.schedule.work)


def _has_next(made: Plan, unit: str) -> bool:
    return any(w.unit_id == unit and w.name == "coat-2" for w in made.schedule.work)
