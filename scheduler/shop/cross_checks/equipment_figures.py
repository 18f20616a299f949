"""Equipment without the figures that its kind needs, and tools that no compressor can drive."""

from collections.abc import Iterator

from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault
from scheduler.shop.resources import Equipment, Kind
from scheduler.shop.shop import Shop

_NEEDED = {
    Kind.WARMER: ("slots", "set_point_c", "film_w_m2k"),
    Kind.COMPRESSOR: ("fad_l_s",),
    Kind.LIFT: ("lift_kg",),
}


def figures(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report cells that are empty although the kind of equipment needs them."""
    for line, row in draft.rows("equipment", Equipment):
        needed = _NEEDED.get(row.kind, ())
        if row.kind is Kind.COMPRESSOR and row.receiver_l:
            needed = (*needed, "cut_out_bar", "gun_bar")
        for column in needed:
            if getattr(row, column) is None:
                yield draft.fault("equipment", line, column, None, f"needed for a {row.kind}", "write the maker's value")
        if row.cut_out_bar is not None and row.gun_bar is not None and row.gun_bar > row.cut_out_bar:
            problem = f"above the highest pressure in the receiver, {row.cut_out_bar:g} bar"
            yield draft.fault("equipment", line, "gun_bar", f"{row.gun_bar:g}", problem, "correct the pressures")


def air(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report tools in use whose mean demand alone is above all that the compressors deliver at sea level."""
    if not draft.whole("equipment"):
        return
    used = {word for method in shop.methods for word in method.tools}
    supply_l_s = sum((row.fad_l_s or 0.0) * row.count for row in shop.equipment_of(Kind.COMPRESSOR))
    for line, row in draft.rows("equipment", Equipment):
        mean_l_s = (row.air_l_s or 0.0) * (100.0 if row.duty_pct is None else row.duty_pct) / 100
        if row.kind in used and row.count and mean_l_s > supply_l_s:
            problem = f"pulls {mean_l_s:g} L/s on average, all compressors together deliver {supply_l_s:g} L/s"
            cure = "add a compressor, or correct air_l_s and duty_pct"
            yield draft.fault("equipment", line, "air_l_s", f"{row.air_l_s:g}", problem, cure)
