"""The shop of the scenario: bays, crew, equipment, how steps are done, and working time."""

from collections.abc import Iterator

Cells = dict[str, object]

ROOM: Cells = {"max_length_m": 4.0, "max_width_m": 2.4, "max_height_m": 2.2, "max_mass_kg": 2500}
OUTSIDE: Cells = {"max_length_m": 6.0, "max_width_m": 3.0, "max_height_m": 3.5, "max_mass_kg": 4000, "outdoor": "yes"}


def bay(bay_id: str, name: str, stages: str, places: int, air_space: str, **more: object) -> Cells:
    """Row of the table bays."""
    return {"bay_id": bay_id, "name": name, "stages": stages, "places": places, "air_space": air_space, **more}


BAYS = (
    bay("P1", "Preparation hall", "prepare", 3, "hall", heated_to_c=12, **ROOM),
    bay("P2", "Outdoor wash and abrade pad", "prepare", 1, "open-air", **OUTSIDE),
    bay("C1", "Spray booth with dryer", "coat", 2, "booth-1", heated_to_c=20, rh_held_pct=55, **ROOM),
    bay("C2", "Spray booth without dryer", "coat", 2, "booth-2", heated_to_c=20, **ROOM),
    bay("C3", "Outdoor apron", "coat", 1, "open-air", **OUTSIDE),
)

CREW = (
    ("W1", "Alma Thornbeck", "sprayer attendant inspector", "day-sat"),
    ("W2", "Bram Osterlund", "sprayer attendant abrader", "day-sat"),
    ("W3", "Celia Varnhope", "sprayer attendant washer", "day"),
    ("W4", "Dov Quillan", "abrader attendant mover", "day-sat"),
    ("W5", "Esme Hartwood", "abrader washer mover", "day"),
    ("W6", "Farid Mosswell", "abrader attendant mover", "day"),
    ("W7", "Greta Sandlow", "mover washer attendant", "day-sat"),
    ("W8", "Hugo Bellweather", "inspector mover washer", "day-sat"),
)
"""Invented people as (id, name, skills, shift)."""


def gear(equipment_id: str, kind: str, name: str, **more: object) -> Cells:
    """Row of the table equipment."""
    return {"equipment_id": equipment_id, "kind": kind, "name": name, **more}


WARM: Cells = {"slots": 12, "set_point_c": 29.4, "film_w_m2k": 8}
EQUIPMENT = (
    gear("H1", "warmer", "Cartridge warmer", **WARM),
    gear("H2", "warmer", "Cartridge warmer on hire", rent_per_day=18, **WARM),
    gear("K1", "compressor", "Screw compressor", fad_l_s=25, receiver_l=500, cut_out_bar=10, gun_bar=6.2),
    gear("G", "gun", "Cartridge gun", count=2, air_l_s=7, duty_pct=60, pull_s=45, change_min=10),
    gear("A", "grinder", "Air grinder with shroud", count=3, air_l_s=10, duty_pct=60, pull_s=60),
    gear("S1", "washer", "Pressure washer, electric"),
    gear("L1", "lift", "Forklift", lift_kg=900),
    gear("L2", "lift", "Gantry crane on wheels", lift_kg=2000),
    gear("T1", "truck", "Flatbed truck"),
)


def step(name: str, stage: str, people: str, set_up_min: int, m2_per_h: object = None, **more: object) -> Cells:
    """Row of the table methods."""
    return {"step": name, "stage": stage, "people": people, "set_up_min": set_up_min, "m2_per_h": m2_per_h, **more}


MOVE: Cells = {"tools": "lift"}
HAUL: Cells = {"tools": "lift truck", "wind_max_m_s": 12}
GRIND: Cells = {"tools": "grinder", "emits": "dust", "respirator": "yes", "rh_max_pct": 85, "rain_max_mm": 0}
SPRAY: Cells = {"tools": "gun", "emits": "vapour", "respirator": "yes"}
METHODS = (
    step("receive", "yard", "mover:2", 30, **HAUL),
    step("move_in", "any", "mover:2", 15, **MOVE),
    step("wash", "prepare", "washer:1", 15, 25, tools="washer", dry_min=60, air_min_c=2),
    step("strip", "prepare", "abrader:1", 10, 3, may_pause="yes", **GRIND),
    step("abrade", "prepare", "abrader:1", 15, 8, may_pause="yes", hold_h=20, **GRIND),
    step("cut_out", "coat", "abrader:1", 15, 2, hold_h=20, **GRIND),
    step("wipe", "coat", "washer:1", 10, 40, emits="vapour", dry_min=20, hold_h=4, rain_max_mm=0),
    step("prime", "coat", "sprayer:1", 15, 15, emits="vapour", respirator="yes"),
    step("coat", "coat", "sprayer:1 attendant:1", 15, 30, **SPRAY),
    step("touch_up", "coat", "sprayer:1 attendant:1", 20, 4, **SPRAY),
    step("texture", "coat", "sprayer:1 attendant:1", 15, 12, **SPRAY),
    step("inspect", "coat", "inspector:1", 15, 60, rain_max_mm=0),
    step("move_out", "any", "mover:2", 15, **MOVE),
    step("dispatch", "yard", "mover:2", 30, **HAUL),
)

WEEK: Cells = {
    "weekdays": "mon tue wed thu fri",
    "starts": "06:30",
    "ends": "15:30",
    "break_starts": "11:00",
    "break_ends": "11:30",
}
SATURDAY: Cells = {"weekdays": "sat", "starts": "06:30", "ends": "12:00", "overtime": "yes"}
SHIFTS: tuple[Cells, ...] = ({"shift_id": "day", **WEEK}, {"shift_id": "day-sat", **WEEK}, {"shift_id": "day-sat", **SATURDAY})

CLOSURES = (
    ("site", "", "2013-10-14T00:00", "2013-10-15T00:00", "public holiday"),
    ("person", "W5", "2013-10-09T00:00", "2013-10-12T00:00", "course for the forklift licence"),
    ("equipment", "L2", "2013-10-17T06:30", "2013-10-17T11:00", "yearly inspection of the gantry"),
    ("person", "W2", "2013-10-24T00:00", "2013-10-26T00:00", "holiday"),
)
"""What is shut as (what, which, from, until, why)."""

PINNED: tuple[Cells, ...] = ({"unit_id": "QH-1", "step": "inspect", "start_at": "2013-10-03T09:00"},)
"""The county's engineer comes to see the first body measured: a witness point."""


def crew() -> Iterator[Cells]:
    """Rows of the table crew; those who spray have a shorter time under the respirator."""
    for person_id, name, skills, shift_id in CREW:
        hours = 5 if "sprayer" in skills else 6
        yield {"person_id": person_id, "name": name, "skills": skills, "shift_id": shift_id, "respirator_h": hours}


def closures() -> Iterator[Cells]:
    """Rows of the table closures."""
    return (dict(zip(("what", "which", "closed_from", "closed_until", "reason"), row, strict=True)) for row in CLOSURES)
