"""Single changes of a shop in which not everything finds a place, the cheapest kind first."""

from collections.abc import Collection, Iterator
from datetime import timedelta
from typing import Final

from scheduler.replan.variants import Variant, variants
from scheduler.shop.shop import Shop

MORE_PACKS: Final = 50
LATER_D: Final = (7, 14, 28)
"""Days that the plan may end later; the first that suffices is enough."""
HELPS: Final = {
    "warm_cartridges": ("warmer",),
    "air_supply": ("compressor",),
    "gun_sessions": ("gun",),
    "haulage": ("truck",),
    "crew_skills": ("sprayer", "abrader", "saturday"),
    "spray_attendant": ("sprayer", "saturday"),
    "respirator_hours": ("sprayer", "abrader"),
    "shift_hours": ("saturday",),
    "weather_window": ("dry bay",),
    "bay_places": ("bay",),
    "air_space": ("bay",),
    "cartridge_stock": ("stock",),
    "open_life": ("stock",),
}
"""What there could be more of where a rule clashes; "bay" stands for one place more of any kind."""


def dates(shop: Shop, chosen: Collection[str]) -> Iterator[Variant]:
    """Yield the shop with other dates: units that may leave later, a later end of the plan."""
    units = {unit.unit_id for unit in shop.units if unit.order_id in chosen}
    if any(u.must_leave_by is not None for u in shop.units if u.unit_id in units):
        freed = tuple(u.model_copy(update={"must_leave_by": None}) if u.unit_id in units else u for u in shop.units)
        yield Variant("leave", f"the units of {', '.join(chosen)} may leave later", shop.with_tables(units=freed))
    for days in LATER_D if shop.typical_year else ():
        until = shop.site.plan_until + timedelta(days=days)
        day = shop.local(until)
        says = f"the plan ends {days} days later, on {day:%a} {day.day} {day:%b} (plan_until)"
        yield Variant("end", says, shop.with_tables(site=shop.site.model_copy(update={"plan_until": until})))


def more(shop: Shop, rules: Collection[str]) -> Iterator[Variant]:
    """Yield the shop with more of something: what the rules that clash ask for first, then the rest."""
    wanted = {name for rule in rules for name in HELPS.get(rule, ())}
    rows = [*_stock(shop), *variants(shop)]
    yield from sorted(rows, key=lambda row: row.name.rpartition(" ")[2] not in wanted and row.name not in wanted)


def _stock(shop: Shop) -> Iterator[Variant]:
    for product in shop.products:
        lots = [lot for lot in shop.lots if lot.product_id == product.product_id]
        if lots:
            extra = lots[0].model_copy(update={"lot_id": f"{lots[0].lot_id}-more", "packs": MORE_PACKS})
            arrives = {"arrives_on": shop.site.plan_from.date(), "expires_on": shop.site.plan_until.date()}
            says = f"{MORE_PACKS} packs of {product.name} more, here from the start"
            yield Variant("stock", says, shop.with_tables(lots=(*shop.lots, extra.model_copy(update=arrives))))
