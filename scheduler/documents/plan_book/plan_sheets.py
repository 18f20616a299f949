"""Sheets that say what is planned: dates, hand-overs, work, what to fetch."""

from collections.abc import Iterable
from typing import Final

from pydantic import BaseModel

from scheduler.documents.plan_book.sheet import Column, Sheet, moment, yes
from scheduler.documents.store.pick import PickList
from scheduler.documents.words.direction import without_controls
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.schedule import DeliveryDate, Draw, Span, Work
from scheduler.shop.methods import Step
from scheduler.shop.workbook.book import Cell

_TYPICAL: Final = Column("typical_weather", "rests on a typical year, not on a forecast; expect it to move", "boolean")


def dates_sheet(words: WorkWords) -> Sheet:
    """When each order is handed back."""
    columns = (
        Column("order_id", "order of the shop's table"),
        Column("customer", "whose order it is"),
        Column("due_at", "when it is due, on the site's clock", "datetime"),
        Column("delivered_at", _says(DeliveryDate, "delivered_at"), "datetime"),
        Column("days_late", _says(DeliveryDate, "days_late"), "number"),
        Column("slack_h", "hours from hand-over to due date; negative if late", "number"),
        _TYPICAL,
    )
    rows = sorted(words.schedule.deliveries, key=lambda d: (d.delivered_at, d.order_id))
    return Sheet("dates", columns, tuple(_date(words, row) for row in rows))


def _date(words: WorkWords, row: DeliveryDate) -> tuple[Cell, ...]:
    slack_h = round((row.due_at - row.delivered_at).total_seconds() / 3600, 2)
    due_at, delivered_at = moment(row.due_at, words.time.tz), moment(row.delivered_at, words.time.tz)
    return row.order_id, _name(row.customer), due_at, delivered_at, row.days_late, slack_h, yes(row.typical_weather)


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
    rows = ((unit, _unit(words, unit), d.order_id, _name(d.customer), moment(at, words.time.tz)) for at, unit, d in pairs)
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
        Column("name", _says(Work, "name")),
        Column("people", "who does it, each with the skill that they are there for"),
        Column("tools", "equipment in use"),
        Column("product", "what is sprayed"),
        Column("area_m2", "area that is worked on", "number"),
        Column("volume_ml", "material on the work, losses included", "number"),
        Column("packs", "packs to have ready for the step", "number"),
        Column("done", _says(Work, "done"), "boolean"),
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
        _name(words.place(work)),
        work.unit_id,
        _unit(words, work.unit_id),
        work.order_id,
        _name(words.customer(work.order_id)),
        work.step.value,
        work.name,
        _name("; ".join(words.people(work))),
        ", ".join(work.tools),
        _name(words.product(work.product_id)) if work.product_id else "",
        work.area_m2 or None,
        work.volume_ml or None,
        work.packs or None,
        yes(work.done),
        yes(work.typical_weather),
        work.reason,
    )


def pick_sheet(lists: Iterable[PickList]) -> Sheet:
    """What each day needs from the store."""
    columns = (
        Column("day", "day on which the work starts", "date"),
        Column("group", "what kind of thing it is"),
        Column("item", "what to fetch"),
        Column("amount", "how much, in the unit beside it", "number"),
        Column("unit", "pieces or millilitres", choices=("pieces", "mL")),
        Column("source", "lot or opened pack"),
        Column("note", "what to look out for", "long"),
    )
    rows = ((picks.day, p.group, p.item, p.amount, p.unit, p.source, p.note) for picks in lists for p in picks.picks)
    return Sheet("pick", columns, tuple(tuple(_name(c) if isinstance(c, str) else c for c in row) for row in rows))


def packs_sheet(words: WorkWords) -> Sheet:
    """Every pack of every step, with its warmer slot and what is left in it."""
    columns = (
        Column("starts_at", "start of the step, on the site's clock", "datetime"),
        Column("unit_id", "unit of the shop's table"),
        Column("name", _says(Work, "name")),
        Column("product", "what is in the pack"),
        Column("cartridge_id", "pack of the stock, or the lot with the number of the pack that the plan opens of it"),
        Column("lot_id", "its lot"),
        Column("begins", _says(Draw, "begins"), choices=("opened", "resumed", "continued")),
        Column("purge_ml", _says(Draw, "purge_ml"), "number"),
        Column("sprayed_ml", _says(Draw, "sprayed_ml"), "number"),
        Column("left_ml", _says(Draw, "left_ml"), "number"),
        Column("warmer_id", _says(Draw, "warmer_id")),
        Column("slot", _says(Draw, "slot"), "number"),
        Column("loaded_at", _says(Draw, "loaded_at"), "datetime"),
        Column("reason", _says(Draw, "reason"), "long"),
    )
    works = sorted(words.schedule.work, key=lambda work: (work.start, work.work_id))
    return Sheet("packs", columns, tuple(_draw(words, work, draw) for work in works for draw in work.draws))


def _draw(words: WorkWords, work: Work, draw: Draw) -> tuple[Cell, ...]:
    tz = words.time.tz
    return (
        moment(work.start, tz),
        work.unit_id,
        work.name,
        _name(words.product(work.product_id)) if work.product_id else "",
        draw.cartridge_id,
        draw.lot_id,
        draw.begins,
        draw.purge_ml,
        draw.sprayed_ml,
        draw.left_ml,
        draw.warmer_id,
        draw.slot,
        moment(draw.loaded_at, tz) if draw.loaded_at else None,
        _name(draw.reason),
    )


def _says(model: type[BaseModel], field: str) -> str:
    """What the schedule's own model says of a field."""
    return model.model_fields[field].description or ""


def _unit(words: WorkWords, unit_id: str) -> str:
    row = words.shop.unit_by_id.get(unit_id)
    return "" if row is None else _name(row.name)


def _name(text: str) -> str:
    """A name without controls of direction: in a cell of its own it turns no neighbour."""
    return without_controls(text)
