"""Failures and coats that come too late: what the shop needs again, and that it can be planned and passes the checker."""

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from random_shop import random_shop

from scheduler.pipeline import Plan, plan
from scheduler.record.as_planned import as_planned
from scheduler.record.desk import Desk
from scheduler.record.enter import admit
from scheduler.record.events import ADAPTER, Failed, Finished, Loaded, Started, Stopped
from scheduler.record.events_file import events_from
from scheduler.record.shop_now import shop_now
from scheduler.search.settings import Settings
from scheduler.shop.needs import needs_of
from scheduler.shop.read import read_shop
from scheduler.shop.shop import Shop
from scheduler.shop.write import write_shop
from tests.record.as_reported import event, reported

QUICK = Settings(moves=5, workers=1)


@pytest.fixture(scope="module")
def planned() -> Plan:
    """Three random units, planned."""
    return plan(random_shop(3, 3), QUICK)


def _film(found: Plan, which: int) -> Any:
    return [work for work in found.schedule.work if work.product_id][which]


def _left(shop: Shop, unit_id: str) -> list[str]:
    done = {row.step for row in shop.done if row.unit_id == unit_id}
    return [need.name for need in needs_of(shop, unit_id) if need.name not in done]


def test_blisters_are_cut_out_wiped_and_touched_up_before_the_next_step(planned: Plan) -> None:
    """5 % of a film that failed as it was looked at."""
    film = _film(planned, 0)
    told = [
        *reported(planned, film.end),
        event(Failed, film.end, unit_id=film.unit_id, step=film.name, cause="blisters", share_pct=5),
    ]
    shop = shop_now(planned.shop, planned.schedule, told, film.end)
    assert _left(shop, film.unit_id)[:3] == ["cut_out-r1", "wipe-r1", "touch_up-r1"]
    assert plan(shop, QUICK).report.ok


def test_a_film_that_failed_all_over_is_put_on_again(planned: Plan) -> None:
    """Abraded, wiped, and sprayed once more; what it took is gone all the same."""
    film = _film(planned, 1)
    told = [*reported(planned, film.end), event(Failed, film.end, unit_id=film.unit_id, step=film.name, cause="runs")]
    shop = shop_now(planned.shop, planned.schedule, told, film.end)
    assert _left(shop, film.unit_id)[:3] == ["abrade-r1", "wipe-r1", f"{film.name}-r1"]
    before, after = ({lot.lot_id: lot.packs for lot in s.lots} for s in (planned.shop, shop))
    opened = [d.lot_id for e in planned.schedule.work if e.start <= film.end for d in e.draws if d.begins == "opened"]
    assert {lot: before[lot] - after[lot] for lot in before} == {lot: opened.count(lot) for lot in before}
    assert plan(shop, QUICK).report.ok


def test_another_step_that_failed_is_to_be_done_again(planned: Plan) -> None:
    """Washed, but the salt test says no."""
    wash = next(work for work in planned.schedule.work if work.name == "wash")
    told = [*reported(planned, wash.end), event(Failed, wash.end, unit_id=wash.unit_id, step="wash", cause="salt")]
    shop = shop_now(planned.shop, planned.schedule, told, wash.end)
    assert _left(shop, wash.unit_id)[0] == "wash"
    assert not shop.rework


def test_a_step_that_was_stopped_is_still_to_do(planned: Plan) -> None:
    """It does not hold its people any longer."""
    abrade = next(work for work in planned.schedule.work if work.name == "abrade")
    at = abrade.start + timedelta(minutes=20)
    of = {"unit_id": abrade.unit_id, "step": "abrade"}
    told = [*reported(planned, abrade.start), event(Stopped, at, why="compressor", **of)]
    shop = shop_now(planned.shop, planned.schedule, told, at)
    assert _left(shop, abrade.unit_id)[0] == "abrade"
    assert plan(shop, QUICK).report.ok


def test_a_coat_that_comes_too_late_is_prepared_for_again(planned: Plan) -> None:
    """Nobody came for a week after a first coat: the next one goes on once the surface has been abraded and wiped."""
    names = [w.name for w in planned.schedule.work if w.unit_id == "U1" and w.product_id]
    first = next(w for w in planned.schedule.work if w.unit_id == "U1" and w.name == names[0])
    told, now = reported(planned, first.end), first.end + timedelta(days=7)
    shop = shop_now(planned.shop, planned.schedule, told, now)
    left = _left(shop, "U1")
    assert left[:3] == ["abrade-r1", "wipe-r1", names[1]]
    done = [*told]
    at = now
    for step in ("abrade-r1", "wipe-r1", names[1]):
        done.append(event(Finished, at + timedelta(hours=1), unit_id="U1", step=step, started_at=at))
        at += timedelta(hours=1)
    later = shop_now(planned.shop, planned.schedule, done, at)
    assert _left(later, "U1") == left[3:]


@settings(max_examples=12, deadline=None)
@given(st.data())
def test_any_prefix_of_a_file_projects_to_the_state_of_its_whole_lines(planned: Plan, data: st.DataObject) -> None:
    """Cut at any byte."""
    until = data.draw(st.sampled_from([work.end for work in planned.schedule.work]))
    told = reported(planned, until)
    whole = b"".join(ADAPTER.dump_json(event) + b"\n" for event in told)
    cut = data.draw(st.integers(0, len(whole)))
    lines = whole[:cut].count(b"\n")
    found = events_from(whole[:cut])
    shop = shop_now(planned.shop, planned.schedule, found.events, until)
    assert shop == shop_now(planned.shop, planned.schedule, told[:lines], until)


@pytest.mark.parametrize("seed", [1, 2, 4])
def test_the_shop_now_is_a_valid_folder_and_its_plan_passes_the_checker(seed: int, tmp_path: Path) -> None:
    """Seen in the middle of a film, with what is under way: written as a folder it reads back without a fault."""
    found = plan(random_shop(seed, 3), QUICK)
    work = _film(found, len(found.schedule.work) % 3)
    now = work.start + (work.end - work.start) / 2
    shop = shop_now(found.shop, found.schedule, reported(found, now), now)
    assert any(row.is_under_way(shop.site.plan_from) for row in shop.done)
    write_shop(shop, tmp_path)
    assert read_shop(tmp_path) == shop
    assert plan(shop, QUICK).report.ok


def test_a_film_is_not_judged_while_a_step_runs_on_it_nor_after_the_unit_has_left(planned: Plan) -> None:
    """Both are refused with what to do."""
    film = _film(planned, 0)
    last = max(work.end for work in planned.schedule.work if work.unit_id == film.unit_id)
    fail = event(Failed, film.end, unit_id=film.unit_id, step=film.name, cause="runs")
    for now, says in ((film.start, "is not recorded as finished"), (last, "was handed back")):
        told = tuple(reported(planned, now))
        desk = Desk(planned.shop, planned.schedule, told, now)
        late = fail if now == film.start else event(Failed, now, unit_id=film.unit_id, step=film.name, cause="runs")
        wrong = admit(Desk(planned.shop, planned.schedule, told, max(now, film.end)), late).objections
        assert [o.problem for o in wrong if says in o.problem], wrong
        assert desk.with_event(late).events[-1] == late


def test_cartridges_are_warm_since_they_were_loaded(planned: Plan) -> None:
    """As the list of the evening says, or as it was reported."""
    film = next(w for w in planned.schedule.work if w.product_id == "lining")
    loaded = max(draw.loaded_at for draw in film.draws if draw.loaded_at is not None)
    now = loaded + timedelta(minutes=30)
    told = reported(planned, now)
    own = event(
        Loaded, now - timedelta(minutes=5), unit_id=film.unit_id, step=film.name, warmer_id="H#1", lot_id="L1", cartridges=2
    )
    rows = [shop_now(planned.shop, planned.schedule, events, now).warming for events in (told, [*told, own])]
    times = [next(row.loaded_at for row in shop if (row.unit_id, row.step) == (film.unit_id, film.name)) for shop in rows]
    assert times == [loaded, own.happened_at]


def test_what_is_inspected_again_after_a_repair_is_reported_as_planned_too(planned: Plan) -> None:
    """The last film blisters after its inspection: repaired and inspected once more, and both go as planned."""
    film = [work for work in planned.schedule.work if work.product_id and work.unit_id == "U1"][-1]
    (inspect,) = (work for work in planned.schedule.work if work.unit_id == "U1" and work.name == "inspect")
    begins = {
        event.id for event in reported(planned, inspect.end) if isinstance(event, Started) and event.happened_at == inspect.end
    }
    told = [
        *(event for event in reported(planned, inspect.end) if event.id not in begins),
        event(Failed, inspect.end, unit_id="U1", step=film.name, cause="blisters", share_pct=5),
    ]
    again = plan(shop_now(planned.shop, planned.schedule, told, inspect.end), QUICK)
    (second,) = (work for work in again.schedule.work if work.unit_id == "U1" and work.name == "inspect" and not work.done)
    desk = Desk(planned.shop, again.schedule, tuple(told), second.end)
    found = as_planned(desk, second.end)
    assert "U1/inspect" in [event.work_id for event in found]  # type: ignore[union-attr]
    after = Desk(planned.shop, again.schedule, (*told, *found), second.end)
    assert as_planned(after, second.end) == []


@pytest.mark.parametrize("which", ["wash", "abrade", "wipe", "film"])
@pytest.mark.parametrize("days", [0, 1, 7])
def test_what_is_left_of_a_stopped_step_is_a_step_of_its_own(planned: Plan, which: str, days: int) -> None:
    """60 % of it was done; at once, a day or a week later there is a plan of the rest that passes the checker."""
    works = [w for w in planned.schedule.work if w.name == which or (which == "film" and w.product_id)]
    work, at = works[-1], works[-1].start + (works[-1].end - works[-1].start) / 2
    before = [e for e in reported(planned, at) if (e.unit_id, e.step) != (work.unit_id, work.name) or e.kind == "started"]  # type: ignore[union-attr]
    told = [*before, event(Stopped, at, unit_id=work.unit_id, step=work.name, why="rain", done_pct=60)]
    shop = shop_now(planned.shop, planned.schedule, told, at + timedelta(days=days))
    rest = next(need for need in needs_of(shop, work.unit_id) if need.rest_of == work.name)
    assert rest.area_m2 == pytest.approx(0.4 * work.area_m2)
    assert rest.volume_ml == pytest.approx(0.4 * work.volume_ml)
    assert rest.name in _left(shop, work.unit_id)
    assert work.name not in _left(shop, work.unit_id)
    assert plan(shop, QUICK).report.ok
    end = at + timedelta(days=days, hours=1)
    done = event(Finished, end, unit_id=work.unit_id, step=rest.name, started_at=end - timedelta(hours=1))
    if not any(row.after == work.name and row.kind.value != "rest" for row in shop.rework):
        later = shop_now(planned.shop, planned.schedule, [*told, done], end)
        assert rest.name not in _left(later, work.unit_id)


def test_what_a_stopped_film_has_taken_is_gone_and_the_rest_is_on_the_shelf(planned: Plan) -> None:
    """By millilitres: one pack and a tenth of the next; the others were not opened."""
    film = next(w for w in planned.schedule.work if len(w.draws) > 2 and all(d.begins == "opened" for d in w.draws))
    first, second = film.draws[:2]
    whole_ml, ml = sum(d.purge_ml + d.sprayed_ml for d in film.draws), first.purge_ml + first.sprayed_ml + 0.3 * second.sprayed_ml
    at = film.start + (film.end - film.start) / 2
    before = [e for e in reported(planned, at) if e.happened_at <= film.start]
    of = {"unit_id": film.unit_id, "step": film.name}
    told = [*before, event(Stopped, at, why="hose", ml=ml, planned_ml=whole_ml, **of)]
    shop = shop_now(planned.shop, planned.schedule, told, at)
    others = [e for e in before if (e.unit_id, e.step) != (film.unit_id, film.name)]  # type: ignore[union-attr]
    untouched = shop_now(planned.shop, planned.schedule, others, at)
    was, now = ({lot.lot_id: lot.packs for lot in s.lots}[first.lot_id] for s in (untouched, shop))
    assert was - now == 2
    left = next(pack.remaining_ml for pack in shop.opened if pack.pack_id == second.cartridge_id)
    assert left == pytest.approx(planned.shop.product_by_id[str(film.product_id)].pack_ml - 0.3 * second.sprayed_ml, abs=0.01)
    rest = next(need for need in needs_of(shop, film.unit_id) if need.rest_of == film.name)
    assert rest.volume_ml == pytest.approx(film.volume_ml * (1 - ml / whole_ml), rel=1e-3)
    assert rest.volume_ml >= film.volume_ml * (1 - ml / whole_ml) - 1e-6


def test_steps_keep_their_names_when_a_re_plan_has_added_to_the_table_of_rework(planned: Plan) -> None:
    """What was told as -r2 is that for ever, although its row stands in the folder and the first one in the events."""
    film = _film(planned, 0)
    later = film.end + timedelta(hours=1)
    told = [
        *reported(planned, film.end),
        event(Failed, film.end, unit_id=film.unit_id, step=film.name, cause="blisters", share_pct=5),
        event(Finished, later, unit_id=film.unit_id, step="cut_out-r1", started_at=film.end),
    ]
    row = {"unit_id": film.unit_id, "after": "cut_out-r1", "kind": "wipe", "reason": "too late", "number": 2}
    tables = {name: getattr(planned.shop, name) for name in Shop.model_fields}
    shop = shop_now(Shop.model_validate(tables | {"rework": [row]}), planned.schedule, told, later)
    assert _left(shop, film.unit_id)[:3] == ["wipe-r2", "wipe-r1", "touch_up-r1"]
    assert plan(shop, QUICK).report.ok
