"""Packs as the schedule names them: which there are, who uses each in what order, and what is in it before."""

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scheduler.check.jobs import Job
from scheduler.schedule.schedule import Draw
from scheduler.shop.product_sheet import Product
from scheduler.shop.stock import Lot, Opened

if TYPE_CHECKING:
    from scheduler.check.facts import Facts


@dataclass(frozen=True, slots=True)
class PackUse:
    """One use of a pack.

    Attributes
    ----------
    before : PackUse or None
        The use before it in time.
    """

    job: Job
    draw: Draw
    before: "PackUse | None"

    @property
    def where(self) -> str:
        """Pack and step, such as ``LN-167#003 for U07 coat-2``."""
        return f"{self.draw.cartridge_id} for {self.job.label}"


def pack_uses(facts: "Facts") -> dict[str, tuple[PackUse, ...]]:
    """Uses of every pack by its id, in the order of time; draws of one step in the order in which they stand."""
    found: dict[str, list[PackUse]] = defaultdict(list)
    for job in facts.planned:
        for draw in job.work.draws:
            uses = found[draw.cartridge_id]
            uses.append(PackUse(job, draw, uses[-1] if uses else None))
    return {pack: tuple(uses) for pack, uses in found.items()}


def lot_of(facts: "Facts", draw: Draw) -> Lot | None:
    """Lot of a draw, None where the pack cannot be one of it: another lot's opened pack, or a number that it does not have."""
    lot, pack = facts.lot_by_id.get(draw.lot_id), facts.opened_by_id.get(draw.cartridge_id)
    if lot is None or (pack is not None and pack.lot_id != lot.lot_id):
        return None
    number = re.fullmatch(re.escape(draw.lot_id) + r"#([0-9]{3,6})", draw.cartridge_id)
    if pack is None and (number is None or not 1 <= int(number[1]) - lot.opened_before <= lot.packs):
        return None
    return lot


def standing(facts: "Facts", use: PackUse) -> Opened | None:
    """Row of a pack that stood opened at the start."""
    return facts.opened_by_id.get(use.draw.cartridge_id)


def content_ml(facts: "Facts", use: PackUse, product: Product) -> float:
    """What is in a pack before a use, mL."""
    if use.before is not None:
        return use.before.draw.left_ml
    row = standing(facts, use)
    return row.remaining_ml if row is not None else product.pack_ml


def least_purge_ml(use: PackUse, product: Product) -> float:
    """What the sheet asks to waste at the start of a use, mL."""
    return {"opened": product.start_purge_ml, "resumed": product.recap_purge_ml, "continued": 0.0}[use.draw.begins]


def all_uses(facts: "Facts") -> Iterator[PackUse]:
    """Every use of every pack of a step that needs a film."""
    for uses in facts.pack_uses.values():
        yield from (use for use in uses if use.job.need.film is not None)
