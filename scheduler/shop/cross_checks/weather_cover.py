"""Weather that does not reach over the horizon, or that is not there at all."""

from collections.abc import Iterator
from datetime import UTC, datetime
from math import ceil

from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault
from scheduler.shop.forecast import AFTER, HOUR, calendar_hour, standard_offset
from scheduler.shop.shop import Shop
from scheduler.shop.tables import TYPICAL_YEAR

_CURE = "add the hours to weather.csv, or name a typical year in site.toml"


def none_at_all(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report that bays have no weather, outdoors or indoors, because there is neither a forecast nor a typical year."""
    if shop.weather or shop.typical_year or not draft.whole("weather", TYPICAL_YEAR) or not shop.bays:
        return
    outdoor = [bay.bay_id for bay in shop.bays if bay.outdoor]
    places = f"the outdoor bay {outdoor[0]}" if outdoor else f"bay {shop.bays[0].bay_id}: air indoors follows that outdoors"
    problem = f"there is no weather for {places}"
    yield draft.fault("weather", None, None, None, problem, _CURE)


def forecast_start(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report a forecast that starts after the plan does."""
    if not shop.weather or not draft.whole("weather"):
        return
    first = min(row.at for row in shop.weather)
    if first > _start(shop):
        line = next(line for line, row in draft.tables["weather"].rows.items() if getattr(row, "at", None) == first)
        problem = f"the forecast starts after plan_from, {shop.site.plan_from.isoformat()}"
        cure = "add the hours from plan_from on, or let the plan start later"
        yield draft.fault("weather", line, "at", first.isoformat(), problem, cure)


def forecast_end(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report a forecast that ends before the plan does where no typical year carries on."""
    if not shop.weather or shop.site.typical_year or not shop.site.is_plannable or not draft.whole("weather"):
        return
    end = max(row.at for row in shop.weather) + HOUR
    short = ceil((shop.site.plan_until - max(end, _start(shop))) / HOUR)
    if short > 0:
        problem = f"the horizon ends {shop.site.plan_until.isoformat()}, the forecast is {short} hours short of it"
        yield draft.fault("weather", None, "at", end.isoformat(), problem, _CURE)


def typical_cover(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report that the typical year lacks hours that are needed past the forecast and until 14 days after the horizon."""
    if not shop.site.typical_year or not shop.site.is_plannable or not draft.whole("weather", TYPICAL_YEAR):
        return
    first = max([_start(shop), *(row.at.astimezone(UTC) + HOUR for row in shop.weather)])
    offset = standard_offset(shop.site.tz, first.year)
    hours = range(max(0, ceil((shop.site.plan_until + AFTER - first) / HOUR)))
    wanted = dict.fromkeys(calendar_hour(first + i * HOUR, offset) for i in hours)
    there = {(row.month, row.day, row.hour) for row in shop.typical_year}
    missing = [hour for hour in wanted if hour not in there]
    if missing:
        month, day, hour = missing[0]
        problem = (
            f"{len(missing)} hours missing that the plan needs past the forecast, from month {month} day {day} hour {hour} on"
        )
        cure = f"add them: the weather must go on until {AFTER.days} days after plan_until"
        yield draft.fault(TYPICAL_YEAR, None, None, None, problem, cure)


def _start(shop: Shop) -> datetime:
    return shop.site.plan_from.astimezone(UTC).replace(minute=0, second=0, microsecond=0)
