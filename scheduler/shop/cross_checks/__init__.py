"""Checks of a shop folder that look at more than one cell. Each gives all the faults that it finds."""

from collections.abc import Callable, Iterator
from itertools import islice
from typing import Final

from scheduler.shop.cross_checks import (
    bay_room,
    cartridges,
    crew_skills,
    equipment_figures,
    fixed_steps,
    keys,
    methods_needed,
    orders,
    references,
    rework_rows,
    sheet_times,
    shortages,
    stock,
    time_enough,
    weather_cover,
    weather_rows,
    working_hours,
)
from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault
from scheduler.shop.shop import Shop
from scheduler.shop.typed_rows import MOST_FAULTS

OF_TABLES: Final[tuple[Callable[[Draft], Iterator[Fault]], ...]] = (
    keys.duplicates,
    references.unknown_ids,
    references.unknown_things,
)
"""Need no settings."""

OF_SHOP: Final[tuple[Callable[[Draft, Shop], Iterator[Fault]], ...]] = (
    working_hours.horizon,
    working_hours.shifts,
    working_hours.closures,
    working_hours.empty_calendar,
    orders.nothing_to_do,
    orders.unit_dates,
    orders.surface_shares,
    methods_needed.missing_methods,
    methods_needed.yard_steps,
    methods_needed.coats_everywhere,
    methods_needed.tools,
    methods_needed.sprayed_with_gun,
    crew_skills.skills,
    crew_skills.never_alone,
    bay_room.stages,
    bay_room.unit_fits,
    bay_room.lifts,
    equipment_figures.figures,
    equipment_figures.air,
    sheet_times.windows,
    sheet_times.cold_is_slow,
    sheet_times.needed_temperatures,
    cartridges.contents,
    cartridges.sheets,
    cartridges.warmers,
    cartridges.warmer_slots,
    stock.lots,
    stock.opened,
    shortages.shortages,
    weather_rows.hours,
    weather_rows.holes,
    weather_rows.typical_hours,
    weather_cover.none_at_all,
    weather_cover.forecast_start,
    weather_cover.forecast_end,
    weather_cover.typical_cover,
    fixed_steps.step_names,
    fixed_steps.pinned_starts,
    fixed_steps.warming_since,
    fixed_steps.done_times,
    fixed_steps.done_without_gaps,
    fixed_steps.under_way,
    rework_rows.rework_steps,
    time_enough.units,
    time_enough.crew,
)
"""Need valid settings, and the rows that are valid; each knows which tables must be whole for it."""


def cross_faults(draft: Draft) -> Iterator[Fault]:
    """Faults of all checks."""
    for check in OF_TABLES:
        yield from _bounded(check(draft))
    shop = draft.shop
    if shop is not None:
        for check_shop in OF_SHOP:
            yield from _bounded(check_shop(draft, shop))


def _bounded(faults: Iterator[Fault]) -> Iterator[Fault]:
    """Pass on at most a thousand faults of one check, and say so."""
    yield from islice(faults, MOST_FAULTS)
    further = next(faults, None)
    if further is not None:
        problem = f"more than {MOST_FAULTS:,} faults of one kind"
        yield Fault(further.file, None, None, None, problem, "cure these first, the rest is not listed")
