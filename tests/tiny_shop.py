"""A tiny shop whose times can be worked by hand: two units, a prepare bay and a coat bay, 20 °C and 10 °C dew point throughout.

At 20 °C the primer is ready for the next coat after 2 h, the lining after 4 h (at most 48 h); the lining is tack free after 2 h,
takes weather after 3 h, can be handled after 8 h and is fit for service after 24 h. Its cartridges (1000 mL usable) are warm
2.0976 h after loading. Each unit is 10 m² of bare steel: 1250 mL of primer (90 um and 35 um that the profile swallows) and two
coats of 5000 mL of lining (500 um). The site is at sea level; the compressor gives 10 L/s, the grinder and the gun take 8 and
6 L/s half of the time.
"""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from scheduler.shop.shop import Shop

ZONE = ZoneInfo("Europe/Berlin")
MONDAY = datetime(2025, 6, 2, 6, 0, tzinfo=ZONE)

SITE = {
    "name": "Tiny shop",
    "zone": ZONE.key,
    "latitude_deg": 52.0,
    "longitude_deg": 13.0,
    "plan_from": MONDAY,
    "plan_until": MONDAY + timedelta(days=11),
    "yard_places": 4,
}
ORDER = {"order_id": "O1", "customer": "Town yard", "due_at": MONDAY + timedelta(days=4, hours=11), "most_units_away": 2}
UNIT = {"order_id": "O1", "name": "Body", "length_m": 3, "width_m": 2, "height_m": 1.5, "mass_kg": 800, "available_from": MONDAY}
SURFACE = {"surface": "outside", "area_m2": 10, "substrate": "bare", "profile_um": 75, "system_id": "S1"}
COATS = (
    {"system_id": "S1", "coat": 1, "applies_to": "bare", "product_id": "primer", "dft_um": 90},
    {"system_id": "S1", "coat": 2, "applies_to": "all", "product_id": "lining", "dft_um": 500},
    {"system_id": "S1", "coat": 3, "applies_to": "all", "product_id": "lining", "dft_um": 500},
)
PRIMER = {
    "product_id": "primer",
    "name": "Bonding primer",
    "supply": "can",
    "volume_solids_pct": 100,
    "pack_ml": 1250,
    "gel_time_min": 240,
}
LINING = {
    "product_id": "lining",
    "name": "Lining",
    "supply": "cartridge",
    "volume_solids_pct": 100,
    "pack_ml": 1100,
    "start_purge_ml": 60,
    "end_heel_ml": 40,
    "recap_purge_ml": 60,
    "gel_time_min": 8,
    "air_min_c": 5,
    "steel_min_c": 5,
    "spray_min_c": 26.667,
    "radius_mm": 30,
    "length_mm": 250,
    "conductivity_w_mk": 0.20,
    "density_kg_m3": 1100,
    "specific_heat_j_kgk": 1900,
}
AT_20_C = {
    "primer": {"tack_free_h": 1, "rain_safe_h": 1.5, "recoat_min_h": 2, "recoat_max_h": 24, "handle_h": 4, "service_h": 20},
    "lining": {"tack_free_h": 2, "rain_safe_h": 3, "recoat_min_h": 4, "recoat_max_h": 48, "handle_h": 8, "service_h": 24},
}
LOTS = (
    {"lot_id": "A1", "product_id": "lining", "packs": 30, "arrives_on": date(2025, 5, 1), "expires_on": date(2025, 12, 31)},
    {"lot_id": "P1", "product_id": "primer", "packs": 4, "arrives_on": date(2025, 5, 1), "expires_on": date(2025, 12, 31)},
)
ROOM = {"max_length_m": 6, "max_width_m": 3, "max_height_m": 3, "max_mass_kg": 2000, "heated_to_c": 20}
PREPARE_BAY = {"bay_id": "B1", "name": "Prepare bay", "stages": "prepare", "places": 1, "air_space": "grit", **ROOM}
COAT_BAY = {"bay_id": "B2", "name": "Coat bay", "stages": "coat", "places": 2, "air_space": "spray", **ROOM}
CREW = (
    {"person_id": "ada", "name": "Ada", "skills": "sprayer attendant", "shift_id": "day"},
    {"person_id": "ben", "name": "Ben", "skills": "hand attendant", "shift_id": "day"},
    {"person_id": "cleo", "name": "Cleo", "skills": "hand", "shift_id": "day"},
)
EQUIPMENT = (
    {"equipment_id": "W1", "kind": "warmer", "name": "Warmer", "slots": 12, "set_point_c": 29.444, "film_w_m2k": 12},
    {"equipment_id": "K1", "kind": "compressor", "name": "Compressor", "fad_l_s": 10},
    {"equipment_id": "G1", "kind": "gun", "name": "Gun", "air_l_s": 6, "duty_pct": 50, "change_min": 15},
    {"equipment_id": "D1", "kind": "grinder", "name": "Grinder", "air_l_s": 8, "duty_pct": 50},
    {"equipment_id": "H1", "kind": "washer", "name": "Washer"},
    {"equipment_id": "L1", "kind": "lift", "name": "Lift", "lift_kg": 2000},
    {"equipment_id": "T1", "kind": "truck", "name": "Truck"},
)
METHODS = (
    {"step": "receive", "stage": "yard", "set_up_min": 30, "people": "hand:1", "tools": "lift truck"},
    {"step": "move_in", "stage": "any", "set_up_min": 15, "people": "hand:2", "tools": "lift"},
    {"step": "wash", "stage": "prepare", "m2_per_h": 20, "people": "hand:1", "tools": "washer", "dry_min": 60},
    {
        "step": "abrade",
        "stage": "prepare",
        "m2_per_h": 10,
        "people": "hand:1",
        "tools": "grinder",
        "may_pause": True,
        "emits": "dust",
        "respirator": True,
        "hold_h": 8,
    },
    {"step": "wipe", "stage": "coat", "m2_per_h": 40, "people": "hand:1", "emits": "vapour", "dry_min": 15},
    {
        "step": "prime",
        "stage": "coat",
        "set_up_min": 15,
        "m2_per_h": 40,
        "people": "sprayer:1",
        "emits": "vapour",
        "respirator": True,
    },
    {
        "step": "coat",
        "stage": "coat",
        "set_up_min": 30,
        "m2_per_h": 20,
        "people": "sprayer:1 attendant:1",
        "tools": "gun",
        "emits": "vapour",
        "respirator": True,
    },
    {"step": "inspect", "stage": "coat", "set_up_min": 15, "people": "hand:1"},
    {"step": "move_out", "stage": "any", "set_up_min": 15, "people": "hand:2", "tools": "lift"},
    {"step": "dispatch", "stage": "yard", "set_up_min": 60, "people": "hand:1", "tools": "lift truck"},
)
DAY = {"shift_id": "day", "weekdays": "mon tue wed thu fri", "starts": "06:00", "ends": "16:00"}
SHIFTS = ({**DAY, "break_starts": "12:00", "break_ends": "12:30"},)


def product_times(**lining: float) -> list[dict[str, object]]:
    """Rows of both sheets: the hours at 20 °C, those of the lining changed as asked; twice at 10 °C and half at 30 °C."""
    sheets = {"primer": AT_20_C["primer"], "lining": {**AT_20_C["lining"], **lining}}
    return [
        {"product_id": product_id, "temp_c": temp_c, **{name: factor * value for name, value in hours.items()}}
        for product_id, hours in sheets.items()
        for temp_c, factor in ((10, 2.0), (20, 1.0), (30, 0.5))
    ]


def weather(days: int = 14) -> list[dict[str, object]]:
    """Hours that are all alike, from midnight before the plan on."""
    first = MONDAY.astimezone(UTC).replace(hour=0)
    steady = {"air_temp_c": 20.0, "dew_point_c": 10.0, "wind_m_s": 2.0, "rain_mm": 0.0}
    return [{"at": first + timedelta(hours=hour), **steady} for hour in range(24 * days)]


def tiny_shop(**overrides: object) -> Shop:
    """The tiny shop, with whole tables replaced as asked.

    Parameters
    ----------
    **overrides
        Tables of :class:`~scheduler.shop.shop.Shop` by name, as rows or dictionaries.
    """
    tables: dict[str, object] = {
        "site": SITE,
        "orders": [ORDER],
        "units": [{"unit_id": "U1", **UNIT}, {"unit_id": "U2", **UNIT}],
        "surfaces": [{"unit_id": "U1", **SURFACE}, {"unit_id": "U2", **SURFACE}],
        "coating_systems": COATS,
        "products": [PRIMER, LINING],
        "product_times": product_times(),
        "lots": LOTS,
        "bays": [PREPARE_BAY, COAT_BAY],
        "crew": CREW,
        "equipment": EQUIPMENT,
        "methods": METHODS,
        "shifts": SHIFTS,
        "weather": weather(),
    }
    return Shop.model_validate({**tables, **overrides})


def with_row(rows: object, key: str, value: str, **changes: object) -> list[dict[str, object]]:
    """Rows of a table in which the row whose ``key`` is ``value`` has been changed."""
    table = list(rows)  # type: ignore[call-overload]
    return [{**row, **changes} if row[key] == value else dict(row) for row in table]
