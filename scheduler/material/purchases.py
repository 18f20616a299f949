"""What runs out, when, and how much to order by which day.

A plan never draws on what is not there or on its way, so nothing is short within it. What counts here is that the shop can
go on: packs are taken to be opened at the rate of the plan, first expired first, and an order has to arrive before the last
pack in date is opened. It covers one lead time, so that the order after it can arrive in time too.
"""

from collections import Counter
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

from scheduler.material.pack_lives import PackLife, last_day, local_day, pack_lives
from scheduler.schedule.schedule import Schedule
from scheduler.shop.product_sheet import Product
from scheduler.shop.shop import Shop
from scheduler.shop.stock import Lot

FARTHEST_D = 366
"""Days after the end of a plan that are looked at; what lasts longer needs no order now."""


@dataclass(frozen=True, slots=True)
class Purchase:
    """A product that the plan uses.

    Attributes
    ----------
    opened_packs : int
        By the plan.
    packs_a_week : float
        Rate over the days of the plan.
    left_packs : int
        Unopened and in date when the plan ends.
    last_in_plan_on : date or None
        Day on which the plan opens the last pack in date; None if some are left.
    runs_out_on : date or None
        Day on which there is no pack in date to open; None if the stock lasts for a year after the plan.
    order_packs : int
        To order; 0 if the stock lasts.
    order_by : date or None
        Last day to order; ``is_late`` says that it lies before the plan begins.
    """

    product: Product
    opened_packs: int
    packs_a_week: float
    left_packs: int
    last_in_plan_on: date | None
    runs_out_on: date | None
    order_packs: int
    order_by: date | None
    is_late: bool


def purchases(shop: Shop, schedule: Schedule) -> tuple[Purchase, ...]:
    """Purchases of every product that the plan opens packs of, those to be ordered first on top."""
    lives = pack_lives(shop, schedule)
    rows = []
    for product in shop.products:
        opened = [life for life in lives if life.product is product and life.stood is None]
        if opened:
            rows.append(_purchase(shop, schedule, product, opened))
    return tuple(sorted(rows, key=lambda row: (row.order_by or date.max, row.product.product_id)))


def _purchase(shop: Shop, schedule: Schedule, product: Product, opened: list[PackLife]) -> Purchase:
    days = sorted(life.opened_on for life in opened)
    ends, begins = last_day(shop, schedule), local_day(shop, schedule.plan_from)
    plan_days = (ends - begins).days + 1
    shelf = _shelf(shop, product, opened)
    left = sum(rest for lot, rest in shelf if lot.expires_on >= ends)
    in_plan = days[-1] if left == 0 else None
    runs_out_on = _after_plan(shelf, ends, len(days), plan_days) if left else days[-1] + timedelta(days=1)
    order_by = runs_out_on - timedelta(days=ceil(product.lead_time_d)) if runs_out_on else None
    order = ceil(len(days) * product.lead_time_d / plan_days) if runs_out_on else 0
    is_late = order_by is not None and order_by < begins
    return Purchase(product, len(days), 7 * len(days) / plan_days, left, in_plan, runs_out_on, order, order_by, is_late)


def _shelf(shop: Shop, product: Product, opened: list[PackLife]) -> list[tuple[Lot, int]]:
    """Lots of a product, first expired first, with what the plan leaves of each."""
    taken = Counter(life.lot.lot_id for life in opened)
    lots = sorted((lot for lot in shop.lots if lot.product_id == product.product_id), key=lambda lot: lot.expires_on)
    return [(lot, lot.packs - taken[lot.lot_id]) for lot in lots]


def _after_plan(shelf: list[tuple[Lot, int]], ends: date, opened: int, plan_days: int) -> date | None:
    """First day after the plan on which no pack in date is there for the day's need, opened at the plan's rate."""
    rest, taken = [count for _, count in shelf], 0
    for n in range(1, FARTHEST_D + 1):
        day, owed = ends + timedelta(days=n), n * opened // plan_days - taken
        for k, (lot, _) in enumerate(shelf):
            if lot.arrives_on <= day <= lot.expires_on:
                take = min(rest[k], owed)
                rest[k], owed, taken = rest[k] - take, owed - take, taken + take
        if owed > 0:
            return day
    return None
