"""Bays, crew, equipment, stock and weather of a benchmark shop, sized by what there is to do."""

import math
from datetime import UTC, date, datetime, timedelta
from random import Random

from scheduler.shop.forecast_rows import WeatherHour
from scheduler.shop.resources import Bay, Equipment, Person
from scheduler.shop.stock import Lot
from tests.random_shop import MONDAY, random_shop

FILL = 0.58
"""Share of the horizon's working days that the work should take."""

RUSH = 1.5
"""How much more crew and equipment a shop needs that has to do its work in the hours which the weather leaves."""


def workshop(random: Random, units: int, days: int, *, outdoor: bool, large: bool) -> dict[str, object]:
    """Build what the shop has for ``units`` units in ``days`` days."""
    a_day = units / (days * 5 / 7 * FILL)
    rush = RUSH if outdoor else 1.0
    return {
        "bays": _bays(a_day, outdoor=outdoor, large=large),
        "crew": _crew(a_day * rush, large=large),
        "equipment": _equipment(a_day * rush, large=large),
        "lots": _lots(units, large=large),
        "weather": weather(random, days + 15, wet_an_hour=0.008),
    }


def _bays(a_day: float, *, outdoor: bool, large: bool) -> tuple[Bay, ...]:
    """Bays with two places each; a unit is in preparation for about a day and in coating for two or three.

    With ``outdoor`` one coating bay in three lies under the open sky and the others have a roof and no heating.
    """
    prepare, coat = a_day * (1.1 if large else 0.6), a_day * (5.0 if outdoor else 2.4)
    rows = [_bay(f"P{n + 1}", "prepare", places, heated_to_c=12) for n, places in enumerate(_places(prepare))]
    for n, places in enumerate(_places(coat)):
        rows.append(_bay(f"C{n + 1}", "coat", places, outdoor=outdoor and n % 3 == 2, heated_to_c=None if outdoor else 20))
    return tuple(rows)


def _places(needed: float) -> list[int]:
    total = max(2, math.ceil(needed))
    return [2] * (total // 2) + [1] * (total % 2)


def _bay(bay_id: str, stage: str, places: int, *, outdoor: bool = False, heated_to_c: float | None) -> Bay:
    return Bay(
        bay_id=bay_id,
        name=stage.capitalize(),
        stages=stage,
        places=places,
        air_space=f"air-{bay_id}",
        outdoor=outdoor,
        heated_to_c=heated_to_c,
        rh_held_pct=60 if heated_to_c == 20 else None,
        max_length_m=6,
        max_width_m=3,
        max_height_m=3,
        max_mass_kg=3000,
    )  # type: ignore[arg-type]


TRADES = (
    "abrader attendant mover washer",
    "attendant inspector mover sprayer",
    "abrader inspector mover washer",
    "abrader attendant sprayer washer",
)


def _crew(a_day: float, *, large: bool) -> tuple[Person, ...]:
    hours_a_unit = 13 if large else 7
    people = max(4, math.ceil(a_day * hours_a_unit / 8) + 1)
    rows = (
        Person(person_id=f"W{n + 1}", name=f"Worker {n + 1}", skills=TRADES[n % 4], shift_id="day", respirator_h=6)  # type: ignore[arg-type]
        for n in range(people)
    )
    return tuple(rows)


def _equipment(a_day: float, *, large: bool) -> tuple[Equipment, ...]:
    """The equipment of a random shop, more of it."""
    scale = max(1, math.ceil(a_day * (0.5 if large else 0.3)))
    counts = {"H": scale + 1, "K": scale, "G": scale + 1, "A": 2 * scale, "S": scale, "L": scale, "T": scale}
    rows = random_shop(0, 1).equipment
    return tuple(row.model_copy(update={"count": counts[row.equipment_id]}) for row in rows)


def _lots(units: int, *, large: bool) -> tuple[Lot, ...]:
    """Plenty, in lots that expire one after the other."""
    need = units * (26 if large else 8)
    late = {"arrives_on": date(2026, 2, 1), "expires_on": date(2027, 12, 31)}
    return (
        Lot(lot_id="L1", product_id="lining", packs=need + 40, **late),  # type: ignore[arg-type]
        Lot(lot_id="L2", product_id="lining", packs=need // 10, arrives_on=date(2026, 2, 1), expires_on=date(2026, 3, 20)),
        Lot(lot_id="Q1", product_id="primer", packs=units * 5 + 10, **late),  # type: ignore[arg-type]
    )


def weather(random: Random, days: int, *, wet_an_hour: float) -> tuple[WeatherHour, ...]:
    """Hours that follow the day, with wet spells of 3 to 20 hours that begin in a dry hour with the chance given."""
    start = MONDAY.astimezone(UTC).replace(hour=0)
    rows, wet = [], 0
    for h in range(days * 24):
        wet = wet - 1 if wet > 0 else (random.randint(3, 20) if random.random() < wet_an_hour else 0)
        rows.append(_hour(start + timedelta(hours=h), h, wet=wet > 0))
    return tuple(rows)


def _hour(at: datetime, h: int, *, wet: bool) -> WeatherHour:
    temp_c = 18 + 6 * math.sin(2 * math.pi * (h % 24 - 9) / 24)
    dew_c = temp_c - (1.0 if wet else 8.0 + 2 * math.sin(h / 30))
    rain_mm = 1.0 if wet else 0.0
    return WeatherHour(at=at, air_temp_c=round(temp_c, 2), dew_point_c=round(dew_c, 2), wind_m_s=3, rain_mm=rain_mm)
