"""Weather with holes or nonsense in it."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from itertools import pairwise

from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault
from scheduler.shop.forecast import HOUR
from scheduler.shop.forecast_rows import TypicalHour, WeatherHour
from scheduler.shop.shop import Shop
from scheduler.shop.tables import TYPICAL_YEAR
from scheduler.shop.time_fields import read_moment

MOST_ABOVE_AIR_K = 1.0
"""Two rounded readings may put the dew point above the air by so much."""


def hours(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report hours off the whole hour, without moisture, or with a dew point well above the air."""
    for line, row in draft.rows("weather", WeatherHour):
        if row.at.timestamp() % 3600:
            problem = "not the start of a whole hour (UTC)"
            yield draft.fault("weather", line, "at", row.at.isoformat(), problem, "give the weather of whole hours")
        if row.dew_point_c is None and row.rh_pct is None:
            problem = "neither a dew point nor a humidity"
            yield draft.fault("weather", line, "dew_point_c", None, problem, "fill in dew_point_c or rh_pct")
        yield from _too_moist(draft, "weather", line, row.air_temp_c, row.dew_point_c)


def holes(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report each run of missing hours between the first and the last; an hour that is there but wrong is no hole."""
    if not draft.listed("weather"):
        return
    rows = [(_at(draft, row.cells.get("at", "")), row.line) for row in draft.tables["weather"].raw]
    known = sorted((at, line) for at, line in rows if at is not None)
    if len(known) < len(rows):
        return
    for (before, _), (after, line) in pairwise(known):
        missing = _hour(after) - _hour(before) - 1
        if missing > 0:
            first = (before + HOUR).astimezone(draft.site.zone)
            problem = f"{missing} hour{'s' if missing > 1 else ''} missing before this one, from {first:%Y-%m-%dT%H:%M%z} on"
            yield draft.fault("weather", line, "at", after.isoformat(), problem, "add the hours that are missing")


def typical_hours(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report days of a typical year that no calendar has, and dew points well above the air."""
    for line, row in draft.rows(TYPICAL_YEAR, TypicalHour):
        if not _is_day(row.month, row.day):
            problem = f"month {row.month} has no day {row.day}"
            yield draft.fault(TYPICAL_YEAR, line, "day", row.day, problem, "correct the day or the month")
        yield from _too_moist(draft, TYPICAL_YEAR, line, row.air_temp_c, row.dew_point_c)


def _too_moist(draft: Draft, table: str, line: int, air_c: float, dew_c: float | None) -> Iterator[Fault]:
    if dew_c is not None and dew_c > air_c + MOST_ABOVE_AIR_K:
        problem = f"the dew point is above the air, {air_c:g} °C, by more than {MOST_ABOVE_AIR_K:g} K"
        yield draft.fault(table, line, "dew_point_c", f"{dew_c:g}", problem, "correct one of the two")


def _hour(moment: datetime) -> int:
    return int(moment.timestamp() // HOUR.total_seconds())


def _at(draft: Draft, text: str) -> datetime | None:
    try:
        return read_moment(text, draft.site.zone)
    except ValueError:  # the cell has a fault of its own by now
        return None


def _is_day(month: int, day: int) -> bool:
    return day <= (date(2023 + month // 12, month % 12 + 1, 1) - timedelta(days=1)).day or (month, day) == (2, 29)
