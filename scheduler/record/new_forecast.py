"""Hours of a new forecast: a file in the form of the weather table, or a stretch of hours in which something is different."""

import math
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Final

from pydantic import ValidationError

from scheduler.record.explained import objections_of
from scheduler.record.report import Objection, ObjectionError
from scheduler.shop.csv_table import read_csv
from scheduler.shop.day_words import moment_text
from scheduler.shop.faults import BadInputError
from scheduler.shop.forecast_rows import WeatherHour
from scheduler.shop.shop import Shop
from scheduler.shop.tables import TABLES
from scheduler.shop.typed_rows import typed

_COLUMNS: Final = {"air": "air_temp_c", "dew": "dew_point_c", "wind": "wind_m_s", "rain": "rain_mm"}


def forecast_hours(shop: Shop, said: Mapping[str, str], begin: datetime, end: datetime) -> tuple[WeatherHour, ...]:
    """Return the hours of ``file``, or those from ``begin`` to ``end`` with what is said of them.

    Raises
    ------
    ObjectionError
        If nothing is said, both are, or the hours are not in the forecast.
    BadInputError
        With every fault of the file.
    """
    changes = {column: _number(name, said[name]) for name, column in _COLUMNS.items() if name in said}
    if "file" in said and (changes or "until" in said):
        raise ObjectionError(Objection("--file", said["file"], "a file says it all", "leave the other options out"))
    if "file" in said:
        return _from_file(shop, Path(said["file"]))
    if not changes:
        raise ObjectionError(
            Objection(
                "forecast", None, "nothing is said of it", "add --file, or --from, --until and --rain, --air, --dew or --wind"
            )
        )
    first = math.floor(begin.timestamp() / 3600) * 3600
    hours = [row for row in shop.weather if first <= row.at.timestamp() < end.timestamp()]
    if not hours:
        problem = f"the forecast has no hour from {moment_text(begin)} to {moment_text(end)}"
        raise ObjectionError(Objection("forecast", None, problem, "give hours that are in it, or a new file"))
    try:
        return tuple(WeatherHour.model_validate(row.model_dump() | _dew(row, changes)) for row in hours)
    except ValidationError as error:
        raise ObjectionError(*objections_of(error, {column: name for name, column in _COLUMNS.items()})) from error


def _number(option: str, text: str) -> float:
    try:
        return float(text)
    except ValueError as error:
        raise ObjectionError(Objection(f"--{option}", text, "not a number", "write a number such as 12.5")) from error


def _dew(row: WeatherHour, changes: Mapping[str, float]) -> dict[str, object]:
    """Changes of an hour; in rain the air is taken to be within a degree of its dew point unless somebody says otherwise."""
    found: dict[str, object] = dict(changes)
    if changes.get("rain_mm", 0.0) > 0 and "dew_point_c" not in changes:
        found["dew_point_c"] = changes.get("air_temp_c", row.air_temp_c) - 1.0
    return found


def _from_file(shop: Shop, path: Path) -> tuple[WeatherHour, ...]:
    table = typed(TABLES["weather"], path.name, read_csv(path), shop.site.tz)
    if table.faults:
        raise BadInputError(table.faults)
    return tuple(row for row in table.rows.values() if isinstance(row, WeatherHour))
