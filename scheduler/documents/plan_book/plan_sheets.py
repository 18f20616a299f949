"""Sheets that say what is planned: dates, hand-overs, work."""

from typing import Final

from scheduler.documents.plan_book.cells import plain, says, unit_name
from scheduler.documents.plan_book.sheet import Column, Sheet, moment, yes
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.schedule import DeliveryDate, Span, Work
from scheduler.shop.methods import Step
from scheduler.shop.workbook.book import Cell

_TYPICAL: Final = Column("typical_weather", "rests on a typical year, not on a forecast; expect it to move", "boolean")


def dates_sheet(words: WorkWords) -> Sheet:
    """When each order is handed back."""
    columns = (
        Column("order_id", "order of the shop's table"),
        Column("customer", "whose order it is"),
        Column("due_at", "when it is due, on the site's clock", "datetime"),
        Column("delivered_at", says(DeliveryDate, "delivered_at"), "datetime"),
        Column("days_late", says(DeliveryDate, "days_late"), "number"),
        Column("slack_h", "hours from hand-over to due date; negative if late", "number"),
        _TYPICAL,
    )
    rows = sorted(words.schedule.deliveries, key=lambda d: (d.delivered_at, d.order_id))
    return Sheet("dates", columns, tuple(_date(words, row) for row in rows))


def _date(words: WorkWords, row: DeliveryDate) -> tuple[Cell, ...]:
    slack_h = round((row.due_at - row.delivered_at).total_seconds() / 3600, 2)
    due_at, delivered_at = moment(row.due_at, words.time.tz), moment(row.delivered_at, words.time.tz)
    return row.order_id, plain(row.customer), due_at, delivered_at, row.days_late, slack_h, yes(row.typical_weather)


def units_sheet(words: WorkWords) -> Sheet:
    """When each unit is handed back."""
    columns = (
        Column("unit_id", "unit of the shop's table"),
        Column("unit", "its name"),
        Column("order_id", "order that it belongs to"),
        Column("customer", "whose order it is"),
        Column("delivered_at", "when it is handed back, on the site's clock", "datetime"),
    )
    pairs = sorted((at, unit, d) for d in words.schedule.deliveries for unit, at in d.units.items())
    rows = ((unit, unit_name(words, unit), d.order_id, plain(d.customer), moment(at, words.time.tz)) for at, unit, d in pairs)
    return Sheet("units", columns, tuple(rows))


def work_sheet(words: WorkWords) -> Sheet:
    """Every stretch of work, by start and bay."""
    columns = (
        Column("starts_at", "on the site's clock", "datetime"),
        Column("ends_at", "on the site's clock; work that pauses has a row for each stretch", "datetime"),
        Column("bay", "bay and place, or the yard"),
        Column("unit_id", "unit of the shop's table"),
        Column("unit", "its name"),
        Column("order_id", "order that it belongs to"),
        Column("customer", "whose order it is"),
        Column("step", "kind of work", choices=tuple(step.value for step in Step)),
        Column("name", says(Work, "name")),
        Column("people", "who does it, each with the skill that they are there for"),
        Column("tools", "equipment in use"),
        Column("product", "what is sprayed"),
        Column("area_m2", "area that is worked on", "number"),
        Column("volume_ml", "material on the work, losses included", "number"),
        Column("packs", "packs to have ready for the step", "number"),
        Column("done", says(Work, "done"), "boolean"),
        _TYPICAL,
        Column("reason", "why the step is there", "long"),
    )
    stretches = ((work, span) for work in words.schedule.work for span in work.spans)
    rows = sorted(stretches, key=lambda pair: (pair[1].start, words.place(pair[0]), pair[0].work_id))
    return Sheet("work", columns, tuple(_stretch(words, work, span) for work, span in rows))


def _stretch(words: WorkWords, work: Work, span: Span) -> tuple[Cell, ...]:
    return (
        moment(span.start, words.time.tz),
        moment(span.end, words.time.tz),
        plain(words.place(work)),
        work.unit_id,
        unit_name(words, work.unit_id),
        work.order_id,
        plain(words.customer(work.order_id)),
        work.step.value,
        work.name,
        plain("; ".join(words.people(work))),
        ", ".join(work.tools),
        plain(words.product(work.product_id)) if work.product_id else "",
        work.area_m2 or None,
        work.volume_ml or None,
        work.packs or None,
        yes(work.done),
        yes(work.typical_weather),
        work.reason,
    )
