"""Orders without units, units without surfaces, and dates and shares that cannot be."""

from collections.abc import Iterator

from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Order, Substrate, Surface, Unit

_WITH_SHARE = frozenset({Substrate.FAILING, Substrate.BLISTERED})


def nothing_to_do(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report orders that no unit belongs to and units without a surface."""
    ordered, surfaced = draft.column("units", "order_id"), draft.column("surfaces", "unit_id")
    for line, order in draft.rows("orders", Order):
        if draft.listed("units") and order.order_id not in ordered:
            cure = "add its units to units.csv, or delete the order"
            yield draft.fault("orders", line, "order_id", order.order_id, "the order has no units", cure)
    for line, unit in draft.rows("units", Unit):
        if draft.listed("surfaces") and unit.unit_id not in surfaced:
            cure = "add its surfaces to surfaces.csv, or delete the unit"
            yield draft.fault("units", line, "unit_id", unit.unit_id, "the unit has no surfaces", cure)


def unit_dates(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report units that come after the plan ends, or must leave before they come or the plan begins."""
    site = shop.site
    for line, unit in draft.rows("units", Unit):
        leave = unit.must_leave_by
        if unit.available_from >= site.plan_until > site.plan_from:
            cure = "correct it, let the plan end later, or leave the unit to the next plan"
            problem = "the unit is available only after plan_until"
            yield draft.fault("units", line, "available_from", unit.available_from.isoformat(), problem, cure)
        if leave is not None and leave <= max(unit.available_from, site.plan_from):
            early = "is available" if leave <= unit.available_from else "can be worked on (plan_from)"
            problem = f"the unit must leave before it {early}"
            yield draft.fault("units", line, "must_leave_by", leave.isoformat(), problem, "correct the dates")


def surface_shares(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report shares that contradict the substrate: failing by nothing, or sound and yet failing."""
    for line, row in draft.rows("surfaces", Surface):
        value = f"{row.failing_pct:g}"
        if row.substrate in _WITH_SHARE and row.failing_pct == 0:
            problem = f"a {row.substrate} surface of which nothing is {row.substrate}"
            yield draft.fault("surfaces", line, "failing_pct", value, problem, "write the share, or sound as substrate")
        elif row.substrate not in _WITH_SHARE and row.failing_pct > 0:
            problem = f"a {row.substrate} surface with a failing share"
            yield draft.fault("surfaces", line, "failing_pct", value, problem, "write failing as substrate, or 0 as share")
