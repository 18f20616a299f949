"""The life of every pack of a plan: where it comes from, which steps it serves, what is left in it, how long it keeps."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property
from math import floor

from scheduler.schedule.schedule import Draw, Schedule, Work
from scheduler.shop.product_sheet import Product
from scheduler.shop.shop import Shop
from scheduler.shop.stock import Lot, Opened


@dataclass(frozen=True, slots=True)
class Use:
    """One pack in one step."""

    work: Work
    draw: Draw


@dataclass(frozen=True)
class PackLife:
    """A pack that stands opened when the plan begins, or that the plan opens.

    Attributes
    ----------
    pack : str
        Its id, such as ``LN-131-a`` or ``LN-167#003``.
    stood : Opened or None
        Row of the stock, None for a pack that the plan opens.
    uses : tuple of Use
        In the order of time; none for a pack that stands and stays.
    opened_on, keeps_until : date
        Day on which it was opened, and last day on which it may be used: its open life and its lot's date count.
    """

    pack: str
    lot: Lot
    product: Product
    stood: Opened | None
    uses: tuple[Use, ...]
    opened_on: date
    keeps_until: date

    @cached_property
    def left_ml(self) -> float:
        """What is in it after its last use, heel included."""
        if self.uses:
            return self.uses[-1].draw.left_ml
        return self.stood.remaining_ml if self.stood is not None else 0.0

    @property
    def is_empty(self) -> bool:
        """Whether nothing of it would reach the work any more: the purge of another start and the heel take the rest."""
        return self.left_ml - self.product.recap_purge_ml - self.product.end_heel_ml < 0.001


def pack_lives(shop: Shop, schedule: Schedule) -> tuple[PackLife, ...]:
    """Every pack that stands opened or is drawn from, by product, lot and id.

    Draws from lots that the shop does not have are left out: no list can say anything true of them, and the checker
    refuses such a schedule by ``cartridge_stock``.
    """
    uses: dict[str, list[Use]] = defaultdict(list)
    for work in sorted(schedule.work, key=lambda w: w.start):
        for draw in work.draws if not work.done else ():
            uses[draw.cartridge_id].append(Use(work, draw))
    lots = {lot.lot_id: lot for lot in shop.lots}
    stood = {row.pack_id: row for row in shop.opened}
    of_lot = {row.pack_id: row.lot_id for row in shop.opened} | {p: rows[0].draw.lot_id for p, rows in uses.items()}
    lives = (_life(shop, lots[lot], p, stood.get(p), tuple(uses.get(p, ()))) for p, lot in of_lot.items() if lot in lots)
    return tuple(sorted(lives, key=lambda life: (life.product.product_id, life.lot.expires_on, life.lot.lot_id, life.pack)))


def _life(shop: Shop, lot: Lot, pack: str, stood: Opened | None, uses: tuple[Use, ...]) -> PackLife:
    product = shop.product_by_id[lot.product_id]
    opened_on = stood.opened_on if stood is not None else shop.local(uses[0].work.start).date()
    keeps_until = min(opened_on + timedelta(days=floor(product.open_life_d)), lot.expires_on)
    return PackLife(pack, lot, product, stood, uses, opened_on, keeps_until)


def last_day(shop: Shop, schedule: Schedule) -> date:
    """Local day on which the last work of a plan ends; the day it begins for a plan without work."""
    return shop.local(max((work.end for work in schedule.work), default=schedule.plan_from)).date()


def local_day(shop: Shop, moment: datetime) -> date:
    """Local day of a moment at the site."""
    return shop.local(moment).date()
