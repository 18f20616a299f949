"""Sheets of the material: what to fetch each day, every pack of every step."""

from collections.abc import Iterable

from scheduler.documents.plan_book.cells import plain, says
from scheduler.documents.plan_book.sheet import Column, Sheet, moment
from scheduler.documents.store.pick import PickList
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.schedule import Draw, Work
from scheduler.shop.workbook.book import Cell


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
    return Sheet("pick", columns, tuple(tuple(plain(c) if isinstance(c, str) else c for c in row) for row in rows))


def packs_sheet(words: WorkWords) -> Sheet:
    """Every pack of every step, with its warmer slot and what is left in it."""
    columns = (
        Column("starts_at", "start of the step, on the site's clock", "datetime"),
        Column("unit_id", "unit of the shop's table"),
        Column("name", says(Work, "name")),
        Column("product", "what is in the pack"),
        Column("cartridge_id", "pack of the stock, or the lot with the number of the pack that the plan opens of it"),
        Column("lot_id", "its lot"),
        Column("begins", says(Draw, "begins"), choices=("opened", "resumed", "continued")),
        Column("purge_ml", says(Draw, "purge_ml"), "number"),
        Column("sprayed_ml", says(Draw, "sprayed_ml"), "number"),
        Column("left_ml", says(Draw, "left_ml"), "number"),
        Column("warmer_id", says(Draw, "warmer_id")),
        Column("slot", says(Draw, "slot"), "number"),
        Column("loaded_at", says(Draw, "loaded_at"), "datetime"),
        Column("reason", says(Draw, "reason"), "long"),
    )
    works = sorted(words.schedule.work, key=lambda work: (work.start, work.work_id))
    return Sheet("packs", columns, tuple(_draw(words, work, draw) for work in works for draw in work.draws))


def _draw(words: WorkWords, work: Work, draw: Draw) -> tuple[Cell, ...]:
    tz = words.time.tz
    return (
        moment(work.start, tz),
        work.unit_id,
        work.name,
        plain(words.product(work.product_id)) if work.product_id else "",
        draw.cartridge_id,
        draw.lot_id,
        draw.begins,
        draw.purge_ml,
        draw.sprayed_ml,
        draw.left_ml,
        draw.warmer_id,
        draw.slot,
        moment(draw.loaded_at, tz) if draw.loaded_at else None,
        plain(draw.reason),
    )
