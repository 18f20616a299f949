"""When each customer gets its units back: rows for people, for CSV and for JSON. Needs the schedule alone."""

from dataclasses import dataclass
from datetime import timedelta
from typing import Final
from zoneinfo import ZoneInfo

from scheduler.documents.words.local_time import LocalTime, duration_text
from scheduler.documents.words.table import Table, csv_text
from scheduler.schedule.schedule import DeliveryDate, Schedule
from scheduler.shop.day_words import day_text

_DAY: Final = timedelta(days=1)
COLUMNS: Final = ("order_id", "customer", "due_at", "delivered_at", "days_late", "slack_h", "units", "typical_weather")


@dataclass(frozen=True, slots=True)
class DateRow:
    """Delivery of one order in words.

    Attributes
    ----------
    order_id, customer : str
    due, delivered : str
        Local day and clock.
    standing : str
        How many days late, or how much time is left to the due date.
    late : bool
    units : tuple of str
        Each unit with its hand-over.
    typical_weather : bool
        Rests on weather past the forecast: expect it to move.
    """

    order_id: str
    customer: str
    due: str
    delivered: str
    standing: str
    late: bool
    units: tuple[str, ...]
    typical_weather: bool


def date_rows(schedule: Schedule) -> tuple[DateRow, ...]:
    """Rows by hand-over."""
    time = LocalTime(ZoneInfo(schedule.zone))
    return tuple(_row(delivery, time) for delivery in sorted(schedule.deliveries, key=lambda d: (d.delivered_at, d.order_id)))


def hand_over_table(schedule: Schedule) -> Table:
    """Hand-over of each unit, by order and time."""
    time = LocalTime(ZoneInfo(schedule.zone))
    rows = [
        (unit_id, delivery.order_id, time.text(at))
        for delivery in sorted(schedule.deliveries, key=lambda d: (d.delivered_at, d.order_id))
        for unit_id, at in sorted(delivery.units.items(), key=lambda pair: (pair[1], pair[0]))
    ]
    return Table("Hand-over of each unit", ("unit", "order", "handed over"), tuple(rows))


def date_json(schedule: Schedule) -> list[dict[str, object]]:
    """Rows as plain values for JSON, by hand-over; moments are ISO 8601 with the site's offset."""
    time = LocalTime(ZoneInfo(schedule.zone))
    rows = sorted(schedule.deliveries, key=lambda d: (d.delivered_at, d.order_id))
    return [_plain(delivery, time) | {"units": {u: time.iso(m) for u, m in delivery.units.items()}} for delivery in rows]


def date_csv(schedule: Schedule) -> str:
    """Write the dates as CSV; the column ``units`` names each unit with its hand-over."""
    rows = date_json(schedule)
    texts = [{**row, "units": "; ".join(f"{u} {at}" for u, at in _units(row)), "typical_weather": _yes(row)} for row in rows]
    return csv_text(COLUMNS, [[str(v) if not isinstance(v := row[c], int | float) else v for c in COLUMNS] for row in texts])


def _row(delivery: DeliveryDate, time: LocalTime) -> DateRow:
    return DateRow(
        order_id=delivery.order_id,
        customer=delivery.customer,
        due=time.text(delivery.due_at),
        delivered=time.text(delivery.delivered_at),
        standing=standing(delivery),
        late=delivery.days_late > 0,
        units=tuple(f"{unit}: {day_text(time.day(at))} {time.clock(at)}" for unit, at in delivery.units.items()),
        typical_weather=delivery.typical_weather,
    )


def standing(delivery: DeliveryDate) -> str:
    """How many days an order is late, or how much time is left to its due date."""
    if delivery.days_late:
        return f"{delivery.days_late} day{'s' if delivery.days_late > 1 else ''} late"
    slack = delivery.due_at - delivery.delivered_at
    if slack >= _DAY:
        return f"{slack // _DAY} day{'s' if slack >= 2 * _DAY else ''} to spare"
    return f"{duration_text(slack.total_seconds() // 60)} to spare"


def _plain(delivery: DeliveryDate, time: LocalTime) -> dict[str, object]:
    return {
        "order_id": delivery.order_id,
        "customer": delivery.customer,
        "due_at": time.iso(delivery.due_at),
        "delivered_at": time.iso(delivery.delivered_at),
        "days_late": delivery.days_late,
        "slack_h": round((delivery.due_at - delivery.delivered_at).total_seconds() / 3600, 2),
        "typical_weather": delivery.typical_weather,
    }


def _units(row: dict[str, object]) -> list[tuple[str, str]]:
    units = row["units"]
    return list(units.items()) if isinstance(units, dict) else []


def _yes(row: dict[str, object]) -> str:
    return "yes" if row["typical_weather"] else "no"
