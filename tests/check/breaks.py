"""For every rule a change to the tiny shop or its schedule that breaks this rule and no other.

Each returns the schedule and the tables to replace. The docstrings state the figures, worked by hand from ``tiny.py``.
"""

from collections.abc import Callable
from datetime import date, timedelta
from itertools import chain
from typing import Any

from draws import changed, loaded
from tiny_shop import (
    COAT_BAY,
    CREW,
    EQUIPMENT,
    LOTS,
    METHODS,
    ORDER,
    PREPARE_BAY,
    SITE,
    UNIT,
    product_times,
    weather,
    with_row,
)

from check.tiny import at, edit, move, put, tiny_schedule, without
from scheduler.schedule.schedule import Assigned, Schedule

Break = tuple[Schedule, dict[str, Any]]


def step_order() -> Break:
    """U1 is never inspected."""
    return without(tiny_schedule(), "U1/inspect"), {}


def flash_off() -> Break:
    """The wipe ends at 10:00 and dries for 15 min; the primer goes on at 10:00."""
    return move(tiny_schedule(), "U1/prime", at(0, "10:00")), {}


def hold_time() -> Break:
    """Abraded steel holds for half an hour; the primer goes on an hour after the abrading ends."""
    return tiny_schedule(), {"methods": with_row(METHODS, "step", "abrade", hold_h=0.5)}


def recoat_window() -> Break:
    """The primer ends at 10:45 and is ready after 2 h, at 12:45; the first coat starts at 12:30."""
    return move(tiny_schedule(), "U1/coat-1", at(0, "12:30")), {}


def dry_to_handle() -> Break:
    """The last coat ends at 07:00 and can be handled after 8 h, at 15:00; the unit is moved out at 14:00."""
    return move(tiny_schedule(), "U1/move_out-coat", at(1, "14:00")), {}


def return_to_service() -> Break:
    """U2's last coat ends on Thursday at 07:00 and is fit after 24 h; the unit is dispatched on Friday at 06:00."""
    return move(tiny_schedule(), "U2/dispatch", at(4, "06:00")), {}


def bay_fit() -> Break:
    """U1 stands in the coat bay and is inspected in the prepare bay."""
    return put(tiny_schedule(), "U1/inspect", bay_id="B1"), {}


def bay_places() -> Break:
    """The coat bay has two places; U1 has the third."""
    schedule = tiny_schedule()
    stays = tuple(s.model_copy(update={"place": 3}) if (s.unit_id, s.stage) == ("U1", "coat") else s for s in schedule.stays)
    return schedule.model_copy(update={"stays": stays}), {}


def lifting() -> Break:
    """U1 is moved in without a lift."""
    return put(tiny_schedule(), "U1/move_in-coat", tools=()), {}


def shift_hours() -> Break:
    """U1 is inspected in the break, from 12:00 to 12:15."""
    return move(tiny_schedule(), "U1/inspect", at(1, "12:00")), {}


def crew_skills() -> Break:
    """Cleo, who is no attendant, stands by."""
    people = (Assigned(person_id="ada", skill="sprayer"), Assigned(person_id="cleo", skill="attendant"))
    return put(tiny_schedule(), "U1/coat-1", people=people), {}


def spray_attendant() -> Break:
    """The methods table asks for a sprayer only, and Ada sprays alone."""
    alone = (Assigned(person_id="ada", skill="sprayer"),)
    return put(tiny_schedule(), "U1/coat-1", people=alone), {"methods": with_row(METHODS, "step", "coat", people="sprayer:1")}


def respirator_hours() -> Break:
    """Ada may wear a respirator for 1 h a day; on her first day she primes for 30 min and sprays for 60 min."""
    return tiny_schedule(), {"crew": with_row(CREW, "person_id", "ada", respirator_h=1)}


def air_supply() -> Break:
    """The compressor gives 3.5 L/s; the grinder takes 4 L/s on average."""
    return tiny_schedule(), {"equipment": with_row(EQUIPMENT, "equipment_id", "K1", fad_l_s=3.5)}


def gun_sessions() -> Break:
    """A coat is sprayed without a gun."""
    return put(tiny_schedule(), "U1/coat-1", tools=()), {}


def warm_cartridges() -> Break:
    """Cartridges loaded at 11:00 are warm 2.1 h later; they are sprayed at 12:45."""
    return edit(tiny_schedule(), "U1/coat-1", lambda work: {"draws": loaded(work.draws, at(0, "11:00"))}), {}


def cartridge_stock() -> Break:
    """20 cartridges are drawn from a lot of 19."""
    return tiny_schedule(), {"lots": with_row(LOTS, "lot_id", "A1", packs=19)}


def open_life() -> Break:
    """A pack opened on 1 June 2024 keeps for 183 days; a year later it gives the fifth litre."""
    opened = [{"pack_id": "X1", "lot_id": "A1", "opened_on": date(2024, 6, 1), "remaining_ml": 1100}]
    old = {"cartridge_id": "X1", "begins": "resumed"}
    return edit(tiny_schedule(), "U1/coat-1", lambda work: {"draws": changed(work.draws, **old)}), {"opened": opened}


def weather_window() -> Break:
    """Between 13:00 and 14:00 on Monday the dew point is 18 °C, 2 K below the steel; the lining wants 3 K."""
    damp = at(0, "13:00")
    rows = [{**row, "dew_point_c": 18.0} if row["at"] == damp else row for row in weather()]
    return tiny_schedule(), {"weather": rows}


def air_space() -> Break:
    """The bays share their air and the lining is wet for 30 h, from Tuesday 06:00 to Wednesday 13:00; U2 is abraded at 08:15."""
    bays = [{**PREPARE_BAY, "air_space": "spray"}, COAT_BAY]
    return tiny_schedule(), {"bays": bays, "product_times": product_times(tack_free_h=30)}


def release() -> Break:
    """U1 is available from 07:00 and received at 06:00."""
    late = {"unit_id": "U1", **UNIT, "available_from": at(0, "07:00")}
    return tiny_schedule(), {"units": [late, {"unit_id": "U2", **UNIT}]}


def units_away() -> Break:
    """The town can spare one unit; U2 is received two hours before U1 is handed back."""
    return tiny_schedule(), {"orders": [{**ORDER, "most_units_away": 1}]}


def haulage() -> Break:
    """The yard has room for one unit; U2 comes two hours before U1 goes."""
    return tiny_schedule(), {"site": {**SITE, "yard_places": 1}}


def pinned_work() -> Break:
    """A person has fixed the abrading of U1 for 08:30; it starts at 08:15."""
    return tiny_schedule(), {"pinned": [{"unit_id": "U1", "step": "abrade", "start_at": at(0, "08:30")}]}


def done_work() -> Break:
    """U1 was received at 05:00, before the plan; the schedule plans it again."""
    start = at(0, "05:00")
    record = {"unit_id": "U1", "step": "receive", "started_at": start, "ended_at": start + timedelta(minutes=30)}
    return tiny_schedule(), {"done": [record]}


_CASES = (
    (step_order, flash_off, hold_time, recoat_window, dry_to_handle, return_to_service, bay_fit, bay_places, lifting),
    (shift_hours, crew_skills, spray_attendant, respirator_hours, air_supply, gun_sessions, warm_cartridges, cartridge_stock),
    (open_life, weather_window, air_space, release, units_away, haulage, pinned_work, done_work),
)
BREAKS: dict[str, Callable[[], Break]] = {case.__name__: case for case in chain.from_iterable(_CASES)}
