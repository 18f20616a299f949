"""Other ways to break each rule, and the limits up to which it holds. Figures are worked by hand from ``tiny.py``."""

from collections.abc import Callable
from datetime import date, datetime, timedelta
from typing import Any

import pytest
from draws import changed, loaded
from tiny_shop import (
    COAT_BAY,
    CREW,
    EQUIPMENT,
    LINING,
    LOTS,
    METHODS,
    PREPARE_BAY,
    PRIMER,
    SHIFTS,
    SITE,
    UNIT,
    product_times,
    weather,
    with_row,
)

from check.tiny import at, broken, check, edit, move, put, tiny_schedule, with_true_stays
from scheduler.schedule.schedule import Assigned, Schedule, Span

HOLIDAY = {"reason": "repair", "closed_from": at(0, "10:30"), "closed_until": at(0, "13:00")}
NIGHT = {"reason": "repair", "closed_from": at(0, "22:00"), "closed_until": at(1, "02:00")}


def _people(*who: tuple[str, str]) -> tuple[Assigned, ...]:
    return tuple(Assigned(person_id=person_id, skill=skill) for person_id, skill in who)


def _load(schedule: Schedule, work_id: str, *moments: datetime) -> Schedule:
    return edit(schedule, work_id, lambda work: {"draws": loaded(work.draws, *moments)})


def _draw(schedule: Schedule, work_id: str, which: int = 0, **fields: Any) -> Schedule:
    return edit(schedule, work_id, lambda work: {"draws": changed(work.draws, which, **fields)})


def _pause(start: str, stop: str, go_on: str, end: str) -> tuple[Span, ...]:
    return Span(start=at(0, start), end=at(0, stop)), Span(start=at(0, go_on), end=at(0, end))


def _equipment(row: str, **changes: Any) -> dict[str, Any]:
    return {"equipment": with_row(EQUIPMENT, "equipment_id", row, **changes)}


def _methods(step: str, **changes: Any) -> dict[str, Any]:
    return {"methods": with_row(METHODS, "step", step, **changes)}


def _weather_at(day: int, clock: str, **values: float) -> dict[str, Any]:
    return {"weather": [{**row, **values} if row["at"] == at(day, clock) else row for row in weather()]}


@pytest.mark.parametrize(
    ("tables", "rules"),
    [
        (_methods("abrade", hold_h=1.0), set()),
        (_methods("wipe", dry_min=16), {"flash_off"}),
        (_methods("wipe", hold_h=0.2), {"hold_time"}),
        ({"product_times": product_times(recoat_max_h=16.25)}, set()),
        ({"product_times": product_times(recoat_max_h=16.2)}, {"recoat_window"}),
        ({"product_times": product_times(handle_h=8.01)}, {"dry_to_handle"}),
        ({"product_times": product_times(service_h=24.01)}, {"return_to_service"}),
        ({"product_times": product_times(recoat_min_h=400, handle_h=400)}, {"recoat_window", "dry_to_handle"}),
        ({"bays": [PREPARE_BAY, {**COAT_BAY, "stages": "prepare"}]}, {"bay_fit"}),
        ({"bays": [PREPARE_BAY, {**COAT_BAY, "max_length_m": 2, "max_width_m": 3}]}, set()),
        ({"bays": [PREPARE_BAY, {**COAT_BAY, "max_length_m": 2.9, "max_width_m": 2.9}]}, {"bay_fit"}),
        ({"bays": [PREPARE_BAY, {**COAT_BAY, "max_height_m": 1.4}]}, {"bay_fit"}),
        ({"bays": [PREPARE_BAY, {**COAT_BAY, "max_mass_kg": 799}]}, {"bay_fit"}),
        (_equipment("L1", lift_kg=799), {"lifting"}),
        (_equipment("L1", lift_kg=800), set()),
        (_equipment("L1", count=0), {"lifting"}),
        ({"closures": [{"what": "site", **HOLIDAY}]}, {"shift_hours"}),
        ({"closures": [{"what": "bay", "which": "B2", **HOLIDAY}]}, {"shift_hours", "bay_places"}),
        ({"closures": [{"what": "bay", "which": "B2", **NIGHT}]}, {"bay_places"}),
        ({"closures": [{"what": "person", "which": "ada", **HOLIDAY}]}, {"shift_hours"}),
        ({"closures": [{"what": "person", "which": "cleo", **HOLIDAY}]}, set()),
        ({"closures": [{"what": "equipment", "which": "G1", **HOLIDAY}]}, {"shift_hours", "gun_sessions"}),
        ({"closures": [{"what": "equipment", "which": "K1", **HOLIDAY}]}, {"air_supply"}),
        ({"closures": [{"what": "equipment", "which": "W1", **HOLIDAY}]}, {"warm_cartridges"}),
        ({"crew": with_row(CREW, "person_id", "ada", respirator_h=1.5)}, set()),
        (_equipment("K1", fad_l_s=8), set()),
        (_equipment("K1", fad_l_s=7.9), {"air_supply"}),
        (_equipment("D1", count=0), {"gun_sessions"}),
        (_equipment("T1", count=0), {"haulage"}),
        (_equipment("W1", slots=4), {"warm_cartridges"}),
        (_equipment("W1", slots=5), set()),
        (_equipment("W1", set_point_c=26), {"warm_cartridges"}),
        ({"lots": with_row(LOTS, "lot_id", "A1", packs=20)}, set()),
        ({"lots": with_row(LOTS, "lot_id", "A1", arrives_on=date(2025, 6, 3))}, {"cartridge_stock"}),
        ({"lots": with_row(LOTS, "lot_id", "A1", expires_on=date(2025, 6, 5))}, set()),
        ({"lots": with_row(LOTS, "lot_id", "A1", expires_on=date(2025, 6, 4))}, {"cartridge_stock"}),
        ({"lots": with_row(LOTS, "lot_id", "A1", product_id="primer")}, {"cartridge_stock"}),
        (_methods("wash", air_min_c=20.5), {"weather_window"}),
        (_methods("receive", wind_max_m_s=1.9), {"weather_window"}),
        (_methods("wash", wind_max_m_s=1.9), set()),
        ({"weather": weather(3)}, {"weather_window", "dry_to_handle", "return_to_service"}),
        ({"products": [PRIMER, {**LINING, "air_max_c": 19}]}, {"weather_window"}),
        ({"units": [{"unit_id": "U1", **UNIT, "must_leave_by": at(2, "07:45")}, {"unit_id": "U2", **UNIT}]}, {"release"}),
        ({"site": {**SITE, "plan_until": at(4, "07:45")}}, {"shift_hours"}),
        ({"site": {**SITE, "plan_from": at(0, "06:15")}}, {"shift_hours"}),
        ({"pinned": [{"unit_id": "U1", "step": "wash", "start_at": at(0, "06:45"), "bay_id": "B2"}]}, {"pinned_work"}),
        ({"pinned": [{"unit_id": "U1", "step": "wash", "start_at": at(0, "06:45"), "bay_id": "B1"}]}, set()),
        ({"pinned": [{"unit_id": "U1", "step": "strip", "start_at": at(0, "06:45")}]}, {"pinned_work"}),
        ({"shifts": [{**SHIFTS[0], "break_starts": "12:00", "break_ends": "13:00"}]}, {"shift_hours"}),
    ],
)
def test_the_tiny_schedule_in_another_shop(tables: dict[str, Any], rules: set[str]) -> None:
    """One figure of the shop changed: just within the limit nothing is broken, just beyond it the rule is.

    A bay that is closed by day is worked in and not empty, one that is closed by night is only not empty. A gun that is closed
    breaks two rules: it is used while it is closed, and there is no gun left for the step.
    """
    assert broken(tiny_schedule(), **tables) == rules


Change = Callable[[Schedule], Schedule]


@pytest.mark.parametrize(
    ("change", "tables", "rules"),
    [
        (lambda s: put(s, "U1/coat-1", tools=("G1",)), {}, set()),
        (lambda s: move(s, "U2/receive", at(2, "07:00")), {}, {"crew_skills", "haulage", "lifting", "step_order"}),
        (lambda s: put(s, "U1/inspect", people=_people(("ben", "hand"), ("ben", "hand"))), {}, {"crew_skills"}),
        (lambda s: put(s, "U1/inspect", people=()), {}, {"crew_skills"}),
        (lambda s: put(s, "U1/receive", tools=("L1", "T1#2")), {}, {"haulage"}),
        (lambda s: put(s, "U1/inspect", people=_people(("cleo", "hand"), ("ben", "hand"))), {}, set()),
        (lambda s: put(s, "U1/receive", bay_id="B1"), {}, {"bay_fit"}),
        (lambda s: put(s, "U1/wipe", bay_id=None), {}, {"bay_fit"}),
        (lambda s: edit(s, "U1/coat-1", lambda w: {"draws": w.draws[1:]}), {}, {"cartridge_stock"}),
        (lambda s: _draw(s, "U1/coat-1", warmer_id=None, slot=None, loaded_at=None), {}, {"warm_cartridges"}),
        (lambda s: _draw(s, "U1/coat-1", slot=2), {}, {"warm_cartridges"}),
        (lambda s: _draw(s, "U1/coat-1", slot=6), {}, set()),
        (lambda s: _draw(s, "U1/coat-1", slot=13), {}, {"warm_cartridges"}),
        (lambda s: _load(s, "U1/coat-1", at(0, "10:00"), at(0, "10:30")), {}, set()),
        (lambda s: _load(s, "U1/coat-2", at(0, "16:00")), {}, {"warm_cartridges"}),
        (lambda s: _load(s, "U1/coat-2", at(0, "12:15")), {}, {"warm_cartridges"}),
        (lambda s: put(s, "U1/coat-1", volume_ml=5100.0), {}, {"cartridge_stock"}),
        (lambda s: _draw(s, "U1/coat-1", cartridge_id="A1#031"), {}, {"cartridge_stock"}),
        (lambda s: _draw(s, "U1/coat-1", cartridge_id="A1#006"), {}, {"cartridge_stock"}),
        (lambda s: _draw(s, "U1/coat-1", cartridge_id="A1-1"), {}, {"cartridge_stock"}),
        (lambda s: _draw(s, "U1/coat-1", cartridge_id="A1#021"), {}, set()),
        (lambda s: _draw(s, "U1/coat-1", purge_ml=50.0, left_ml=50.0), {}, {"cartridge_stock"}),
        (lambda s: _draw(s, "U1/coat-1", purge_ml=70.0, left_ml=30.0), {}, {"cartridge_stock"}),
        (lambda s: _draw(s, "U1/coat-1", left_ml=45.0), {}, {"cartridge_stock"}),
        (lambda s: _draw(s, "U1/coat-1", begins="continued"), {}, {"cartridge_stock", "gun_sessions"}),
        (lambda s: put(s, "U1/wash", draws=next(w.draws for w in s.work if w.work_id == "U1/prime")), {}, {"cartridge_stock"}),
        (lambda s: put(s, "U1/wash", spans=(Span(start=at(0, "06:45"), end=at(0, "07:00")),)), {}, {"shift_hours"}),
        (lambda s: put(s, "U1/wash", spans=(Span(start=at(0, "06:45"), end=at(0, "07:30")),)), {}, {"shift_hours", "flash_off"}),
        (lambda s: put(s, "U1/wash", spans=_pause("06:45", "07:00", "07:00", "07:15")), {}, {"shift_hours"}),
        (lambda s: put(s, "U1/abrade", spans=_pause("08:00", "08:30", "08:45", "09:15")), {}, {"shift_hours", "flash_off"}),
        (lambda s: put(s, "U2/inspect", done=True), {}, {"done_work"}),
    ],
)
def test_another_schedule_in_the_tiny_shop(change: Change, tables: dict[str, Any], rules: set[str]) -> None:
    """One field of the schedule changed breaks the rules that it must, and no others."""
    assert broken(change(tiny_schedule()), **tables) == rules


def test_work_may_pause_over_the_break_of_all_and_not_over_the_break_of_one() -> None:
    """Abrading from 11:30 that goes on at 12:30 pauses while everyone does; if Ben works through, it must not."""
    schedule = edit(tiny_schedule(), "U1/abrade", lambda _work: {"spans": _pause("11:30", "12:00", "12:30", "13:00")})
    no_break = {"shift_id": "long", "weekdays": "mon tue wed thu fri", "starts": "06:00", "ends": "16:00"}
    crew = with_row(CREW, "person_id", "ben", shift_id="long")
    assert "shift_hours" not in broken(schedule)
    assert "shift_hours" in broken(schedule, crew=crew, shifts=[*SHIFTS, no_break])


def test_two_units_in_one_place_are_one_too_many() -> None:
    """U1 stays in place 1 until U2 has come: with two places U2 takes the second, in the first it stands in U1."""
    schedule = move(tiny_schedule(), "U1/move_out-coat", at(2, "15:00"))
    schedule = move(schedule, "U1/dispatch", at(3, "08:00"))
    crowded = broken(schedule)
    second = [s.model_copy(update={"place": 2}) if (s.unit_id, s.stage) == ("U2", "coat") else s for s in schedule.stays]
    assert "bay_places" in crowded
    assert "bay_places" not in broken(schedule.model_copy(update={"stays": tuple(second)}))


def test_a_stay_shorter_than_the_work_in_it_is_a_breach() -> None:
    """Waiting counts: a place is held from the move in to the move out."""
    schedule = tiny_schedule()
    short = schedule.stays[1].model_copy(update={"end": at(1, "07:15")})
    assert broken(schedule.model_copy(update={"stays": (schedule.stays[0], short, *schedule.stays[2:])})) == {"bay_places"}


@pytest.mark.parametrize(("change_min", "rules"), [(60, set()), (61, {"gun_sessions"})])
def test_a_gun_is_changed_over_between_two_films(change_min: float, rules: set[str]) -> None:
    """U2's first coat, brought to Tuesday 08:00, follows U1's second by an hour: time to change over in 60 min, not in 61.

    Its cartridges are loaded on Monday with U1's; the other rules that the early coat breaks are those of U2's chain.
    """
    schedule = move(tiny_schedule(), "U2/coat-1", at(1, "08:00"))
    schedule = _load(schedule, "U2/coat-1", at(0, "15:00"))
    found = broken(schedule, **_equipment("G1", change_min=change_min))
    assert found & {"gun_sessions"} == rules


def test_the_receiver_serves_a_short_pull_above_the_delivery() -> None:
    """8 L/s for 30 s against 5 L/s: a receiver of 24 L from 10 to 6.2 bar gives 3.0 L/s more, one of 23 L gives 2.87.

    Stored free air = 24 L x 3.8 bar / 1.01325 bar = 90.0 L in 30 s.
    """
    compressor = {"fad_l_s": 5, "cut_out_bar": 10, "gun_bar": 6.2}
    for receiver_l, rules in ((24.1, set()), (23, {"air_supply"})):
        tools = with_row(EQUIPMENT, "equipment_id", "D1", pull_s=30)
        rows = with_row(tools, "equipment_id", "K1", **compressor, receiver_l=receiver_l)
        assert broken(tiny_schedule(), equipment=rows) == rules


def test_air_is_thinner_at_altitude() -> None:
    """8 L/s of delivery serve the grinder's pull of 8 L/s at sea level; at 1524 m and 6.2 bar they are 8 / 1.173 = 6.8 L/s.

    Altitude factor 1.173 at 90 psig and 5000 ft: Compressed Air and Gas Institute handbook (from memory).
    """
    at_sea_level, in_the_hills = (
        broken(tiny_schedule(), site={**SITE, "altitude_m": altitude_m}, **_equipment("K1", fad_l_s=8))
        for altitude_m in (0, 1524)
    )
    assert (at_sea_level, in_the_hills) == (set(), {"air_supply"})


@pytest.mark.parametrize(("minutes", "rules"), [(8, set()), (20, {"warm_cartridges"})])
def test_a_cartridge_cools_on_a_cold_bench(minutes: float, rules: set[str]) -> None:
    """On a bench at 10 °C a cartridge of 30 mm radius at 8 W/m²K falls from 29.444 to 26.667 °C in 10.68 min.

    Two-dimensional finite volumes and a 60-term series agree on 10.68 min (section 3 of the project's check values).
    """
    cold = [{**COAT_BAY, "heated_to_c": None}, PREPARE_BAY]
    hours = [{**row, "air_temp_c": 10.0, "dew_point_c": 5.0} for row in weather()]
    times = [{**row, "temp_c": row["temp_c"] - 10} for row in product_times()]  # type: ignore[operator]
    site = {**SITE, "spray_load_min": minutes}
    assert broken(tiny_schedule(), bays=cold, weather=hours, product_times=times, site=site) == rules


@pytest.mark.parametrize(("spray_at", "rules"), [("12:15", {"warm_cartridges"}), ("12:45", set())])
def test_the_soak_is_the_time_to_the_core(spray_at: str, rules: set[str]) -> None:
    """From 15 °C in a warmer at 29.444 °C, 30 mm and 12 W/m²K, the core is at 26.667 °C after 2.0976 h.

    Two-dimensional finite volumes and a 60-term series agree on 2.0976 h (section 3 of the project's check values): loaded at
    10:30, it is warm at 12:36.
    """
    schedule = _load(move(tiny_schedule(), "U1/coat-1", at(0, spray_at)), "U1/coat-1", at(0, "10:30"))
    assert broken(schedule) & {"warm_cartridges"} == rules


def test_an_opened_pack_in_time_gives_its_litre_once() -> None:
    """1100 mL opened give 1000: fit until the last day of their open life or of their lot; drawn again there is too little."""
    resumed = {"cartridge_id": "X1", "begins": "resumed"}
    once = _draw(tiny_schedule(), "U1/coat-1", **resumed)
    twice = _draw(once, "U2/coat-1", **resumed)

    def opened(on: date, ml: float = 1100) -> dict[str, Any]:
        return {"opened": [{"pack_id": "X1", "lot_id": "A1", "opened_on": on, "remaining_ml": ml}]}

    last_day = date(2025, 6, 2) - timedelta(days=183)
    assert broken(once, **opened(last_day)) == set()
    assert broken(once, **opened(last_day - timedelta(days=1))) == {"open_life"}
    assert broken(twice, **opened(date(2025, 5, 1))) == {"cartridge_stock"}
    assert broken(once, **opened(date(2025, 5, 1), 1000)) == {"cartridge_stock"}


def _shared(loaded_at: datetime, **fields: Any) -> Schedule:
    """U1 is coated with 4.9 litres the first time; the 100 mL that are left go into its second coat, less 60 mL of purge."""
    schedule = _draw(tiny_schedule(), "U1/coat-1", 4, sprayed_ml=900.0, left_ml=140.0)
    schedule = put(schedule, "U1/coat-1", volume_ml=4900.0)
    left = {"cartridge_id": "A1#005", "begins": "resumed", "sprayed_ml": 40.0, "left_ml": 40.0, "loaded_at": loaded_at}
    schedule = _draw(schedule, "U1/coat-2", 0, **left, **fields)
    return put(schedule, "U1/coat-2", volume_ml=4040.0)


def test_a_recapped_cartridge_is_warmed_again_before_it_is_resumed() -> None:
    """It goes in after its first use, and from the air of the bay it takes its time; a slot of its own, purged again."""
    fine = broken(_shared(at(0, "15:00")))
    assert fine == {"cartridge_stock"}  # the volumes only: surfaces need five litres a coat
    assert broken(_shared(at(0, "13:00"))) == {"cartridge_stock", "warm_cartridges"}


def test_a_pack_in_two_hands_at_once_is_refused() -> None:
    """U2's first coat brought to the hour of U1's names the same cartridge."""
    same = _draw(move(tiny_schedule(), "U2/coat-1", at(0, "13:00")), "U2/coat-1", cartridge_id="A1#001", begins="resumed")
    assert any("at once" in breach.says for breach in check(same).breaches if breach.rule == "cartridge_stock")


def test_rain_spoils_a_fresh_film_outdoors_and_not_indoors() -> None:
    """Rain from 16:00 to 17:00 falls within 3 h of the coat that ends at 13:45; a roof keeps it off."""
    rain = _weather_at(0, "16:00", rain_mm=0.4)
    outdoors = {"bays": [PREPARE_BAY, {**COAT_BAY, "outdoor": True, "heated_to_c": None}]}
    report = check(tiny_schedule(), **rain, **outdoors)
    wet = [b for b in report.breaches if b.rule == "weather_window" and b.work_ids == ("U1/coat-1",)]
    assert any("rain 0.4 mm" in b.says and "while the film is fresh" in b.says for b in wet)
    assert broken(tiny_schedule(), **rain) == set()


def test_solvent_that_flashes_off_shares_no_air_with_sparks() -> None:
    """A wipe that ends at 10:00 and dries for 15 min, and abrading in the same air from 09:45, 10:00 or 10:15."""
    bays = {"bays": [{**PREPARE_BAY, "air_space": "spray"}, COAT_BAY]}
    found = {}
    for clock in ("09:45", "10:00", "10:15"):
        schedule = move(tiny_schedule(), "U2/abrade", at(0, clock))
        breaches = [b for b in check(schedule, **bays).breaches if b.rule == "air_space"]
        found[clock] = {b.work_ids for b in breaches}
    wipe, prime = ("U2/abrade", "U1/wipe"), ("U2/abrade", "U1/prime")
    assert found == {"09:45": {wipe, prime}, "10:00": {wipe, prime}, "10:15": {prime}}


def test_history_stays_as_recorded_and_is_not_judged() -> None:
    """U1 was received, moved and washed before the plan by people long gone: as recorded it passes, changed it is refused."""
    records, schedule = [], tiny_schedule()
    for name in ("receive", "move_in-prepare", "wash"):
        work = next(w for w in schedule.work if w.work_id == f"U1/{name}")
        schedule = put(move(schedule, work.work_id, work.start - timedelta(days=3)), work.work_id, done=True, people=(), tools=())
        times = {"started_at": work.start - timedelta(days=3), "ended_at": work.end - timedelta(days=3)}
        records.append({"unit_id": "U1", "step": name, "bay_id": work.bay_id, "people": "old-hand", **times})
    assert broken(schedule, done=records) == set()
    assert broken(put(schedule, "U1/wash", people=_people(("ben", "hand"))), done=records) == {"done_work"}
    assert "done_work" in broken(put(schedule, "U1/wash", bay_id="B2"), done=records)
    assert "done_work" in broken(move(schedule, "U1/wash", at(-3, "07:15")), done=records)
    assert broken(schedule) >= {"done_work"}
    gone = schedule.model_copy(update={"work": tuple(w for w in schedule.work if w.work_id != "U1/wash")})
    assert broken(gone, done=records) >= {"done_work", "step_order"}


def test_history_still_sets_the_pace_of_what_follows() -> None:
    """A first coat sprayed by hand of history on Monday keeps its recoat minimum for the second."""
    schedule = put(tiny_schedule(), "U1/coat-1", done=True)
    coat = next(w for w in schedule.work if w.work_id == "U1/coat-1")
    record = {"unit_id": "U1", "step": "coat-1", "started_at": coat.start, "ended_at": coat.end}
    assert broken(schedule, done=[record]) == set()
    early = move(schedule, "U1/coat-2", at(0, "15:00"))
    assert "recoat_window" in broken(early, done=[record])


def test_a_person_in_two_places_is_named_with_both() -> None:
    """Ben inspects U2 while he sprays U1."""
    schedule = put(move(tiny_schedule(), "U2/inspect", at(0, "13:00")), "U2/inspect", people=_people(("ben", "hand")))
    breaches = [b for b in check(schedule).breaches if b.rule == "crew_skills"]
    assert [b.work_ids for b in breaches] == [("U1/coat-1", "U2/inspect")]


def test_a_breach_of_the_recoat_window_reads_as_the_trade_says_it() -> None:
    """Unit, step, when, by how much and the limit with its temperature."""
    (breach,) = check(move(tiny_schedule(), "U1/coat-1", at(0, "12:30"))).breaches
    assert breach.says == "U1 coat-1 starts on Mon 2 Jun 12:30, 0.2 h before its recoat minimum of prime (2.0 h at 20 °C)"
    assert breach.amount == pytest.approx(0.25)
    assert breach.at == at(0, "12:30")


def test_the_stays_of_a_schedule_set_by_its_work_pass() -> None:
    """The helper that these tests move work with writes stays as a planner would."""
    assert check(with_true_stays(tiny_schedule())).ok
