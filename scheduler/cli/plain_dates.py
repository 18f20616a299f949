"""Delivery dates straight from the text of a saved schedule: no model of it is loaded, so that the answer comes at once."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final
from zoneinfo import ZoneInfo

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.odd_values import FIRST_YEAR, LAST_YEAR
from scheduler.documents.words.local_time import LocalTime

VERSION: Final = "2"


@dataclass(frozen=True, slots=True)
class PlainDate:
    """Hand-over of one order: aware moments, days late in calendar days, and whether typical weather is behind it."""

    order_id: str
    customer: str
    due_at: datetime
    delivered_at: datetime
    days_late: int
    typical_weather: bool
    units: dict[str, datetime]


@dataclass(frozen=True, slots=True)
class PlainDates:
    """Dates of a schedule, by hand-over, with the site's clock."""

    site: str
    made_at: datetime
    time: LocalTime
    rows: tuple[PlainDate, ...]


def plain_dates(path: Path) -> PlainDates:
    """Read the dates of a saved schedule.

    Raises
    ------
    Failed
        If the file cannot be read or is no schedule of the version that is read here.
    """
    try:
        return _dates(json.loads(path.read_text(encoding="utf-8")))
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
        why = f"{type(error).__name__}: {error}" if isinstance(error, KeyError) else str(error)
        says = f"coatrun: {path}: cannot be read as a schedule of version {VERSION} ({why}); give the schedule.json of a run"
        raise Failed(ExitCode.BAD_INPUT, says) from error


def _dates(document: Mapping[str, object]) -> PlainDates:
    if document["schema_version"] != VERSION:
        msg = f"its version is {document['schema_version']!r}"
        raise ValueError(msg)
    rows, provenance = document["deliveries"], document["provenance"]
    if not isinstance(rows, list) or not isinstance(provenance, dict):
        msg = "deliveries or provenance have another form"
        raise TypeError(msg)
    dates = sorted((_date(row) for row in rows), key=lambda d: (d.delivered_at, d.order_id))
    zone = ZoneInfo(str(document["zone"]))
    return PlainDates(str(document["site"]), _moment(provenance["made_at"]), LocalTime(zone), tuple(dates))


def _date(row: dict[str, object]) -> PlainDate:
    units = row["units"]
    if not isinstance(units, dict):
        msg = "the units of an order have another form"
        raise TypeError(msg)
    return PlainDate(
        order_id=str(row["order_id"]),
        customer=str(row["customer"]),
        due_at=_moment(row["due_at"]),
        delivered_at=_moment(row["delivered_at"]),
        days_late=int(str(row["days_late"])),
        typical_weather=bool(row["typical_weather"]),
        units={str(unit): _moment(at) for unit, at in units.items()},
    )


def _moment(text: object) -> datetime:
    moment = datetime.fromisoformat(str(text))
    if moment.tzinfo is None:
        msg = f"{text} has no offset from UTC"
        raise ValueError(msg)
    if not FIRST_YEAR <= moment.year <= LAST_YEAR:
        msg = f"{text} is not between {FIRST_YEAR} and {LAST_YEAR}"
        raise ValueError(msg)
    return moment
