"""Hourly weather of an airfield in 2013: read in the units of the source, written in ours."""

import csv
import math
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

STATION = "EWR"
RAW_COLUMNS = ("origin", "time_hour", "temp", "dewp", "humid", "wind_speed", "precip")
COLUMNS = ("at", "air_temp_c", "dew_point_c", "rh_pct", "wind_m_s", "rain_mm")


@dataclass(frozen=True, slots=True)
class Hour:
    """One hour; None is a value that the source lacks."""

    at: datetime
    air_c: float | None = None
    dew_c: float | None = None
    rh_pct: float | None = None
    wind_m_s: float | None = None
    rain_mm: float | None = None


@dataclass(frozen=True, slots=True)
class WholeHour:
    """One hour with all its values."""

    at: datetime
    air_c: float
    dew_c: float
    rh_pct: float
    wind_m_s: float
    rain_mm: float


def read_raw(path: Path) -> list[dict[str, str]]:
    """Return the station's rows with the columns that are used, as text in the units of the source."""
    with path.open(encoding="utf-8", newline="") as lines:
        return [{name: row[name] for name in RAW_COLUMNS} for row in csv.DictReader(lines) if row["origin"] == STATION]


def read_hours(rows: list[dict[str, str]]) -> list[Hour]:
    """Turn degrees Fahrenheit, miles per hour and inches into °C, m/s and mm."""
    return [
        Hour(
            datetime.fromisoformat(row["time_hour"]).astimezone(UTC),
            _number(row["temp"], lambda f: (f - 32) / 1.8),
            _number(row["dewp"], lambda f: (f - 32) / 1.8),
            _number(row["humid"], lambda pct: pct),
            _number(row["wind_speed"], lambda mph: mph * 0.44704),
            _number(row["precip"], lambda inches: inches * 25.4),
        )
        for row in rows
    ]


def cells(hour: WholeHour) -> tuple[str, ...]:
    """Return the cells of a row; what harms a coat (damp, wind, rain) is rounded up."""
    air_c = round(hour.air_c, 2)
    values = (air_c, min(_up(hour.dew_c), air_c), min(100.0, _up(hour.rh_pct)), _up(hour.wind_m_s), _up(hour.rain_mm))
    return (f"{hour.at:%Y-%m-%dT%H:%M:%SZ}", *(f"{value:.2f}" for value in values))


def _number(text: str, turned: Callable[[float], float]) -> float | None:
    return None if text == "NA" else turned(float(text))


def _up(value: float) -> float:
    return math.ceil(value * 100 - 1e-6) / 100
