"""From slots back to people, places and the clock on the wall."""

from datetime import timedelta
from itertools import pairwise

import pytest
from tiny_shop import COAT_BAY, EQUIPMENT, METHODS, MONDAY, PREPARE_BAY, SITE, UNIT, tiny_shop, with_row

from scheduler.activities.build import build_network
from scheduler.activities.realise import Realised, realise
from scheduler.schedule.schedule import Work
from scheduler.search.improve import Improver
from scheduler.shop.shop import Shop


def _realised(shop: Shop) -> Realised:
    built = build_network(shop)
    better = Improver(built.network, 1).first()
    assert better is not None
    return realise(shop, built, better.placed)


@pytest.fixture(scope="module")
def plain() -> Realised:
    """The tiny shop as insertion plans it."""
    return _realised(tiny_shop())


def _work(realised: Realised, work_id: str) -> Work:
    return next(w for w in realised.work if w.work_id == work_id)


def test_every_time_is_on_the_clock_of_the_site(plain: Realised) -> None:
    """Zone and grid: whole quarters of Berlin time."""
    moments = [m for w in plain.work for s in w.spans for m in (s.start, s.end)]
    assert {str(m.tzinfo) for m in moments} == {"Europe/Berlin"}
    assert {m.minute % 15 for m in moments} == {0}


def test_work_that_pauses_has_a_span_for_each_stretch_of_work() -> None:
    """Abrading of 22 h pauses over breaks and nights, and its spans sum to 22 h."""
    methods = with_row(METHODS, "step", "abrade", set_up_min=21 * 60, respirator=False, hold_h=None)
    abrade = _work(_realised(tiny_shop(methods=methods)), "U1/abrade")
    assert sum(((s.end - s.start) for s in abrade.spans), timedelta()) == timedelta(hours=22)
    assert {(a.end.hour, a.end.minute, b.start.hour, b.start.minute) for a, b in pairwise(abrade.spans)} == {
        (12, 0, 12, 30),
        (16, 0, 6, 0),
    }


def test_a_step_over_the_change_of_the_clocks_takes_the_time_that_passes() -> None:
    """A night shift on 30 March 2025: abrading of 2 h that starts at 01:00 ends at 04:00 by the clock, in one piece."""
    saturday = MONDAY.replace(month=3, day=29, hour=22)
    night = {"shift_id": "day", "weekdays": "sat sun mon tue wed thu fri", "starts": "22:00", "ends": "06:00"}
    site = {**SITE, "plan_from": saturday, "plan_until": saturday + timedelta(days=11)}
    rows = [{"unit_id": "U1", **UNIT, "available_from": saturday}]
    weather = [{**h.model_dump(), "at": h.at - timedelta(days=66)} for h in tiny_shop().weather]
    methods = with_row(METHODS, "step", "abrade", set_up_min=60)
    pinned = [{"unit_id": "U1", "step": "abrade", "start_at": saturday + timedelta(hours=3)}]
    lots = [{**lot.model_dump(), "arrives_on": saturday.date()} for lot in tiny_shop().lots]
    tables = {"site": site, "units": rows, "shifts": [night], "weather": weather, "methods": methods, "lots": lots}
    surfaces = [s for s in tiny_shop().surfaces if s.unit_id == "U1"]
    (span,) = _work(_realised(tiny_shop(**tables, surfaces=surfaces, pinned=pinned)), "U1/abrade").spans
    assert (span.start.hour, span.end.hour) == (1, 4)
    assert span.end.timestamp() - span.start.timestamp() == 2 * 3600


def test_a_stay_lasts_from_the_move_in_to_the_move_out(plain: Realised) -> None:
    """And nobody else has its place meanwhile."""
    for stay in plain.stays:
        assert stay.start == _work(plain, f"{stay.unit_id}/move_in-{stay.stage}").start
        assert stay.end == _work(plain, f"{stay.unit_id}/move_out-{stay.stage}").end
    for one in plain.stays:
        for two in plain.stays:
            same = (one.bay_id, one.place) == (two.bay_id, two.place) and one != two
            assert not same or one.end <= two.start or two.end <= one.start


def test_cartridges_are_loaded_in_time_and_while_somebody_is_there(plain: Realised) -> None:
    """2.0976 h of soaking (references section 3): loaded 2 h 6 min or more before, in a slot of the working day."""
    for work in (w for w in plain.work if w.loads):
        assert sum(load.cartridges for load in work.loads) == work.packs == 5
        for load in work.loads:
            assert work.start - load.loaded_at >= timedelta(hours=2, minutes=6)
            assert 6 <= load.loaded_at.hour < 16


def test_pieces_of_a_row_have_numbers_and_cheaper_rows_come_first() -> None:
    """Two guns of one row are G1#1 and G1#2; a hired lift is left alone while the own one is free."""
    equipment = with_row(EQUIPMENT, "equipment_id", "G1", count=2)
    equipment.append({"equipment_id": "A0", "kind": "grinder", "name": "Hired", "air_l_s": 8, "duty_pct": 50, "rent_per_day": 90})
    realised = _realised(tiny_shop(equipment=equipment))
    tools = {tool for w in realised.work for tool in w.tools}
    assert tools & {"G1#1", "G1#2"}
    assert "G1" not in tools
    assert "A0" not in tools


def test_bays_alike_have_places_of_their_own() -> None:
    """Two coat bays of two places each are one class; every stay gets a bay and a place that the bay has."""
    bays = [PREPARE_BAY, {**COAT_BAY, "places": 1}, {**COAT_BAY, "bay_id": "B3", "places": 1}]
    realised = _realised(tiny_shop(bays=bays))
    assert {(s.bay_id, s.place) for s in realised.stays if s.stage == "coat"} <= {("B2", 1), ("B3", 1)}
    for work in (w for w in realised.work if w.bay_id):
        stay = next(s for s in realised.stays if s.unit_id == work.unit_id and s.start <= work.start < s.end)
        assert work.bay_id == stay.bay_id
