"""A step that was stopped with a share of it done: its rest is planned, and a schedule that wrongs it is caught by the rule.

U1 of the tiny shop, alone: abraded until 09:00 on Monday, wiped until 09:45, primed until 11:00, and 60 % of its first coat
sprayed when the rain came at 14:00. The primer takes a coat from 2 h to 24 h after it, the lining from 4 h to 48 h.
"""

from datetime import datetime, timedelta
from typing import Any

import pytest
from tiny_shop import SITE, SURFACE, UNIT, tiny_shop

from check.tiny import at, broken, move, put, without
from scheduler.check import check_schedule
from scheduler.pipeline import Plan, plan
from scheduler.record.missed_windows import missed_windows
from scheduler.search.settings import Settings
from scheduler.shop.fixed import Warming
from scheduler.shop.methods import Step
from scheduler.shop.shop import Shop

DONE = (
    ("receive", "06:00", "06:30", None),
    ("move_in-prepare", "06:30", "06:45", "B1"),
    ("wash", "06:45", "07:00", "B1"),
    ("abrade", "08:00", "09:00", "B1"),
    ("move_out-prepare", "09:00", "09:15", "B1"),
    ("move_in-coat", "09:15", "09:30", "B2"),
    ("wipe", "09:30", "09:45", "B2"),
    ("prime", "10:15", "11:00", "B2"),
    ("coat-1", "13:30", "14:00", "B2"),
)
QUICK = Settings(moves=5, workers=1)


def _stopped(step: str, now: datetime, left_pct: float = 40, wet_edge_min: float | None = None) -> Shop:
    """U1 alone, stopped in a step with a share of it left; all before it is done, and cartridges for the rest are warm."""
    upto = [row[0] for row in DONE].index(step) + 1
    done: list[dict[str, Any]] = [
        {"unit_id": "U1", "step": name, "started_at": at(0, begin), "ended_at": at(0, end), "bay_id": bay, "people": "ben"}
        for name, begin, end, bay in DONE[:upto]
    ]
    rest = {"unit_id": "U1", "after": step, "kind": "rest", "share_pct": left_pct, "reason": "stopped, rain"}
    one = {"units": [{"unit_id": "U1", **UNIT}], "surfaces": [{"unit_id": "U1", **SURFACE}]}
    shop = tiny_shop(**one, site={**SITE, "plan_from": now}, done=done, rework=[rest])
    if wet_edge_min is None:
        return shop
    products = [product.model_copy(update={"wet_edge_min": wet_edge_min}) for product in shop.products]
    warm = [Warming(unit_id="U1", step=f"{step}-r1", loaded_at=at(0, "06:00"))] if step.startswith("coat") else []
    return shop.with_tables(products=products, warming=warm)


@pytest.fixture(scope="module")
def coat() -> Plan:
    """Stopped in the first coat."""
    return plan(_stopped("coat-1", at(0, "14:00")), QUICK)


def test_only_the_rest_is_planned_and_it_laps_over_the_edge_when_that_takes_it(coat: Plan) -> None:
    """4 m² and 2000 mL of 10 m² and 5000 mL; four hours after the stop the shift is over, so it is Tuesday at six."""
    works = {work.work_id: work for work in coat.schedule.work}
    rest = works["U1/coat-1-r1"]
    assert (rest.area_m2, rest.volume_ml, rest.packs) == (pytest.approx(4), pytest.approx(2000), 2)
    assert (rest.end - rest.start).total_seconds() / 60 == 45  # 30 min to set up and 12 min at 20 m²/h, in slots of 15 min
    assert rest.start == at(1, "06:00")
    assert works["U1/coat-1"].area_m2 == pytest.approx(6)
    assert works["U1/coat-2"].area_m2 == 10
    assert coat.report.ok


@pytest.mark.parametrize(
    ("work_id", "start", "says"),
    [
        ("U1/coat-1-r1", at(0, "15:00"), "before its recoat minimum of coat-1"),
        ("U1/coat-1-r1", at(1, "12:30"), "after its recoat maximum of prime"),
        ("U1/coat-2", at(1, "09:00"), "before its recoat minimum of coat-1-r1"),
        ("U1/coat-2", at(2, "14:15"), "after its recoat maximum of coat-1 "),
    ],
)
def test_the_recoat_window_holds_at_the_edge_under_the_rest_and_over_both(
    coat: Plan, work_id: str, start: datetime, says: str
) -> None:
    """The rest on the edge of what was sprayed and on the primer under it; the next coat on what was sprayed and on the rest."""
    breaches = check_schedule(coat.shop, move(coat.schedule, work_id, start)).breaches
    assert any(breach.rule == "recoat_window" and says in breach.says for breach in breaches), breaches


@pytest.mark.parametrize(
    ("fields", "rule"),
    [({"area_m2": 10.0}, "step_order"), ({"volume_ml": 5000.0}, "cartridge_stock"), ({"draws": ()}, "cartridge_stock")],
)
def test_the_rest_is_no_more_and_no_less(coat: Plan, fields: dict[str, Any], rule: str) -> None:
    """The whole area, the whole volume, nothing at all; or no rest in the schedule."""
    assert rule in broken(put(coat.schedule, "U1/coat-1-r1", **fields), coat.shop)
    assert "step_order" in broken(without(coat.schedule, "U1/coat-1-r1"), coat.shop)


def test_what_was_abraded_does_not_hold_longer_because_a_part_of_it_was_primed() -> None:
    """Stopped in the primer at 11:00: the rest comes within 8 h of the abrading at 09:00, or rust is there first."""
    found = plan(_stopped("prime", at(0, "11:00")), QUICK)
    rest = next(work for work in found.schedule.work if work.name == "prime-r1")
    assert found.report.ok
    assert rest.start == at(0, "13:00")  # the edge takes it after 2 h
    late = check_schedule(found.shop, move(found.schedule, "U1/prime-r1", at(1, "06:00"))).breaches
    says = "13.0 h after the 8 h that the steel holds from the end of abrade"
    assert any(b.rule == "hold_time" and says in b.says for b in late)


def test_the_share_that_is_abraded_first_holds_no_longer_than_the_rest() -> None:
    """Stopped while abrading at 09:00: the primer comes within 8 h of that, not of the end of the rest."""
    found = plan(_stopped("abrade", at(0, "09:00")), QUICK)
    works = {work.name: work for work in found.schedule.work}
    assert found.report.ok
    assert works["abrade-r1"].start == at(0, "09:00")
    assert (works["abrade-r1"].end - works["abrade-r1"].start).total_seconds() / 60 == 30  # 4 m² at 10 m²/h
    late = check_schedule(found.shop, move(found.schedule, "U1/prime", at(0, "17:15"))).breaches
    assert {b.work_ids for b in late if b.rule == "hold_time"} == {("U1/abrade", "U1/prime")}


def test_abrading_before_the_rest_does_nothing_for_what_was_sprayed() -> None:
    """Two days late: edge and rest are abraded, and for the next coat the window of what was sprayed is over all the same."""
    shop = _stopped("coat-1", at(2, "15:00"))
    again = {"unit_id": "U1", "after": "coat-1", "kind": "abrade", "reason": "too late"}
    tables = {name: getattr(shop, name) for name in Shop.model_fields}
    shop = Shop.model_validate({**tables, "rework": [*(row.model_dump() for row in shop.rework), again]})
    with pytest.raises(RuntimeError, match="no start is left for coat-2"):
        plan(shop, QUICK)
    found = missed_windows(_stopped("coat-1", at(2, "15:00")))
    assert [(row.after, row.kind.value) for row in found] == [("coat-1", "abrade"), ("coat-1-r1", "abrade")]


@pytest.mark.parametrize(("step", "stop"), [("prime", "11:00"), ("coat-1", "14:00")])
def test_a_film_goes_on_wet_on_wet_while_its_edge_is_wet(step: str, stop: str) -> None:
    """Within half an hour of the stop; after that it waits for the recoat minimum, and so it does where no edge is known."""
    found = plan(_stopped(step, at(0, stop), wet_edge_min=30), QUICK)
    rest = next(work for work in found.schedule.work if work.name == f"{step}-r1")
    assert found.report.ok
    assert rest.start == at(0, stop)
    later = {minutes: at(0, stop) + timedelta(minutes=minutes) for minutes in (30, 45)}
    for minutes, start in later.items():
        breaches = check_schedule(found.shop, move(found.schedule, f"U1/{step}-r1", start)).breaches
        early = [breach for breach in breaches if breach.work_ids == (f"U1/{step}", f"U1/{step}-r1")]
        assert {breach.rule for breach in early} == ({"recoat_window"} if minutes > 30 else set())
    assert "recoat_window" in broken(found.schedule, _stopped(step, at(0, stop)))


def test_a_stop_beyond_the_wet_edge_waits_for_the_recoat_minimum() -> None:
    """Planned again three quarters of an hour after the stop, with an edge that is wet for half an hour."""
    shop = _stopped("prime", at(0, "11:00"), wet_edge_min=30)
    shop = shop.with_tables(site=shop.site.model_copy(update={"plan_from": at(0, "11:45")}))
    rest = next(work for work in plan(shop, QUICK).schedule.work if work.name == "prime-r1")
    assert rest.start == at(0, "13:00")


def test_what_goes_on_wet_still_has_to_dry_for_others() -> None:
    """A method that lets its film flash off: the rest does not wait for that either, the step after it does."""
    shop = _stopped("prime", at(0, "11:00"), wet_edge_min=30)
    methods = [m.model_copy(update={"dry_min": 90.0}) if m.step is Step.PRIME else m for m in shop.methods]
    shop = shop.with_tables(methods=methods)
    found = plan(shop, QUICK)
    assert found.report.ok
    assert next(work.start for work in found.schedule.work if work.name == "prime-r1") == at(0, "11:00")
    without_edge = [product.model_copy(update={"wet_edge_min": None}) for product in shop.products]
    assert {"flash_off", "recoat_window"} <= broken(found.schedule, shop.with_tables(products=without_edge))
