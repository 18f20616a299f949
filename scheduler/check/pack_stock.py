"""Packs against the stock: which lot one is of, what is in it before a use, what its start wastes at the least."""

import re
from collections.abc import Iterator

from scheduler.check.facts import Facts
from scheduler.check.packs import PackUse
from scheduler.schedule.schedule import Draw
from scheduler.shop.product_sheet import Product
from scheduler.shop.stock import Lot, Opened


def lot_of(facts: Facts, draw: Draw) -> Lot | None:
    """Lot of a draw, None where the pack cannot be one of it: another lot's opened pack, or a number that it does not have."""
    lot, pack = facts.lot_by_id.get(draw.lot_id), facts.opened_by_id.get(draw.cartridge_id)
    if lot is None or (pack is not None and pack.lot_id != lot.lot_id):
        return None
    number = re.fullmatch(re.escape(draw.lot_id) + r"#([0-9]{3,6})", draw.cartridge_id)
    if pack is None and (number is None or not 1 <= int(number[1]) - lot.opened_before <= lot.packs):
        return None
    return lot


def standing(facts: Facts, use: PackUse) -> Opened | None:
    """Row of a pack that stood opened at the start."""
    return facts.opened_by_id.get(use.draw.cartridge_id)


def content_ml(facts: Facts, use: PackUse, product: Product) -> float:
    """What is in a pack before a use, mL."""
    if use.before is not None:
        return use.before.draw.left_ml
    row = standing(facts, use)
    return row.remaining_ml if row is not None else product.pack_ml


def least_purge_ml(use: PackUse, product: Product) -> float:
    """What the sheet asks to waste at the start of a use, mL."""
    return {"opened": product.start_purge_ml, "resumed": product.recap_purge_ml, "continued": 0.0}[use.draw.begins]


def all_uses(facts: Facts) -> Iterator[PackUse]:
    """Every use of every pack of a step that needs a film."""
    for uses in facts.pack_uses.values():
        yield from (use for use in uses if use.job.need.film is not None)
