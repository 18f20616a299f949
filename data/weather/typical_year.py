"""A typical year of hourly weather from a TMY3 file: months of different years put together as one."""

import csv
import math
from pathlib import Path

DATE, TIME, AIR, DEW = "Date (MM/DD/YYYY)", "Time (HH:MM)", "Dry-bulb (C)", "Dew-point (C)"
HUMIDITY, WIND, RAIN = "RHum (%)", "Wspd (m/s)", "Lprecip depth (mm)"
RAW_COLUMNS = (DATE, TIME, AIR, DEW, HUMIDITY, WIND, RAIN)
COLUMNS = ("month", "day", "hour", "air_temp_c", "dew_point_c", "wind_m_s", "rain_mm")
HOURS = 8760
DEPTH_MM = 0.1
"""The depth of rain is in tenths of a millimetre, whatever its heading says; README.md has the reasons."""


def read_raw(path: Path) -> tuple[list[str], list[dict[str, str]]]:
    """Return the line that names the station, and the columns that are used as text."""
    with path.open(encoding="utf-8", newline="") as lines:
        station = next(csv.reader(lines))
        return station, [{name: row[name] for name in RAW_COLUMNS} for row in csv.DictReader(lines)]


def cells(row: dict[str, str]) -> tuple[str, ...]:
    """Return the cells of an hour, named by its start in local standard time.

    The source names an hour by its end, the last one of a day 24:00.

    Raises
    ------
    ValueError
        If a value is missing (the source writes -9900) or the dew point lies above the air temperature.
    """
    month, day, _ = row[DATE].split("/")
    air_c, dew_c, wind_m_s, depth = (float(row[name]) for name in (AIR, DEW, WIND, RAIN))
    if min(air_c, dew_c, wind_m_s, depth) < -90 or dew_c > air_c:
        msg = f"{row[DATE]} {row[TIME]}: a value is missing or makes no sense"
        raise ValueError(msg)
    rain_mm = math.ceil(depth * DEPTH_MM * 100 - 1e-6) / 100
    hour = int(row[TIME].split(":")[0]) - 1
    return (str(int(month)), str(int(day)), str(hour), f"{air_c:.1f}", f"{dew_c:.1f}", f"{wind_m_s:.1f}", f"{rain_mm:.1f}")


def year(rows: list[dict[str, str]]) -> list[tuple[str, ...]]:
    """Return the rows of the year.

    Raises
    ------
    ValueError
        If they are not the hours of 365 days, each once.
    """
    hours = [cells(row) for row in rows]
    if len(hours) != HOURS or len({hour[:3] for hour in hours}) != HOURS:
        msg = f"{len(hours)} hours are not those of a year of 365 days"
        raise ValueError(msg)
    return hours
