"""Steps under way when the plan begins hold people, tools, air and places until they end, in plan and checker alike."""

from datetime import timedelta
from typing import Any

from tiny_shop import MONDAY, PREPARE_BAY, SITE, tiny_shop

from scheduler.activities.build import Built, build_network
from scheduler.activities.masks import bits
from scheduler.check.check import check_schedule
from scheduler.pipeline import plan
from scheduler.search.settings import Settings
from scheduler.shop.shop import Shop

STEPS = (
    ("receive", 0, 0.5, None, "cleo", "L1"),
    ("move_in-prepare", 0.5, 0.75, "B1", "ben cleo", "L1"),
    ("wash", 0.75, 1.25, "B1", "ben", ""),
    ("abrade", 2.25, 3.25, "B1", "cleo", ""),
    ("move_out-prepare", 3.25, 3.5, "B1", "ben cleo", "L1"),
    ("move_in-coat", 3.5, 3.75, "B2", "ben cleo", "L1"),
    ("wipe", 3.75, 4.0, "B2", "ben", ""),
    ("prime", 4.25, 4.75, "B2", "ada", ""),
    ("coat-1", 6.75, 7.75, "B2", "ada ben", "G1"),
)
QUICK = Settings(moves=20, workers=1)


def _shop(last: str, now_h: float, **tables: Any) -> Shop:
    """U1 as far as ``last``, seen so many hours after Monday 06:00."""
    names = [row[0] for row in STEPS]
    done = [
        {
            "unit_id": "U1",
            "step": name,
            "started_at": MONDAY + timedelta(hours=a),
            "ended_at": MONDAY + timedelta(hours=b),
            "bay_id": bay_id,
            "people": people,
            "tools": tools,
        }
        for name, a, b, bay_id, people, tools in STEPS[: names.index(last) + 1]
    ]
    return tiny_shop(site={**SITE, "plan_from": MONDAY + timedelta(hours=now_h)}, done=done, **tables)


def _first(built: Built, key: str, bay_class: int) -> Any:
    window = next(a for a in built.network.activities if a.key == key).windows["done_work"][bay_class]
    return built.grid.start_of(next(iter(bits(window)))).astimezone(built.grid.zone)


def test_the_rest_of_the_shop_goes_on_meanwhile() -> None:
    """U1 is abraded until 09:15; at 09:00 U2 may be received at once, U1's own next step waits for the end."""
    built = build_network(_shop("abrade", 3.0))
    assert _first(built, "U2/receive", 0) == MONDAY + timedelta(hours=3)
    assert _first(built, "U1/move_out-prepare", 1) == MONDAY + timedelta(hours=3.25)


def test_people_and_tools_are_busy_until_it_ends() -> None:
    """At 13:00 the coat still runs for three slots: Ada and Ben are on it, the gun takes 15 min more to be changed."""
    net = build_network(_shop("coat-1", 7.0)).network
    free = {w.key: next(iter(bits(w.free))) for w in net.workers}
    assert free == {"ada": 3, "ben": 3, "cleo": 0, "L1": 0}
    pools = {p.key: p.taken for p in net.pools}
    assert pools["gun"] == ((0, 4, 1),)
    assert pools["air mean"] == ((0, 3, 30),)
    assert pools["warmer"] == ((0, 3, 5),)


def test_a_lift_that_nobody_named_is_taken_to_be_in_use() -> None:
    """U1 is moved into the coat bay until 09:45."""
    net = build_network(_shop("move_in-coat", 3.5)).network
    assert {w.key: next(iter(bits(w.free))) for w in net.workers} == {"ada": 0, "ben": 1, "cleo": 1, "L1": 1}


def test_hours_under_a_respirator_count_from_the_records() -> None:
    """Cleo abraded for an hour; Ada primed for half an hour and sprays for one, Ben beside her."""
    net = build_network(_shop("coat-1", 7.0)).network
    assert {w.key: w.respirator_used for w in net.workers if w.respirator_used} == {
        "ada": ((0, 6),),
        "ben": ((0, 4),),
        "cleo": ((0, 4),),
    }


def test_dust_keeps_vapour_away_from_its_air() -> None:
    """Prepare and coat bay share their air: U2, which is there too, is wiped once U1 is abraded, at 09:15."""
    bays = [{**PREPARE_BAY, "places": 2}, {**tiny_shop().bays[1].model_dump(), "air_space": "grit"}]
    built = build_network(_shop("abrade", 3.0, bays=bays))
    assert _first(built, "U2/wipe", 2) == MONDAY + timedelta(hours=3.25)
    apart = build_network(_shop("abrade", 3.0))
    assert _first(apart, "U2/wipe", 2) == MONDAY + timedelta(hours=3)


def test_a_place_is_free_when_the_move_out_ends() -> None:
    """U1 leaves the prepare bay until 09:30; the stay is written out, and U2 comes in afterwards."""
    shop = _shop("move_out-prepare", 3.25)
    found = plan(shop, QUICK)
    stays = {(s.unit_id, s.stage): s for s in found.schedule.stays}
    assert (stays["U1", "prepare"].start, stays["U1", "prepare"].end) == (
        MONDAY + timedelta(hours=0.5),
        MONDAY + timedelta(hours=3.5),
    )
    assert stays["U2", "prepare"].start >= MONDAY + timedelta(hours=3.5)


def test_the_checker_refuses_who_is_wanted_twice() -> None:
    """A plan made without the coat under way has Ada, Ben or their gun in two places; with it, it passes."""
    shop = _shop("coat-1", 7.0)
    assert plan(shop, QUICK).report.ok
    there = {row.step: row for row in shop.done}
    early = shop.model_dump() | {"done": [row for row in shop.done if row.step != "coat-1"]}
    blind = plan(Shop.model_validate(early), QUICK).schedule
    late = there["coat-1"].model_copy(update={"ended_at": max(w.end for w in blind.work if w.name == "coat-1")})
    asked = Shop.model_validate(shop.model_dump() | {"done": [*early["done"], late]})
    record = next(w for w in plan(shop, QUICK).schedule.work if w.work_id == "U1/coat-1")
    spans = (record.spans[0].model_copy(update={"end": late.ended_at}),)
    work = [w for w in blind.work if w.work_id != "U1/coat-1"] + [record.model_copy(update={"spans": spans})]
    rules = {b.rule for b in check_schedule(asked, blind.model_copy(update={"work": tuple(work)})).breaches}
    assert "crew_skills" in rules
