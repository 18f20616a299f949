"""Who and what is there: arrivals, absences, what is out of service, and the weather as it is forecast now."""

from collections.abc import Iterable

from scheduler.record.events import Arrived, Away, Down, Forecast, Plain
from scheduler.shop.calendar import Closure, Shut
from scheduler.shop.fixed import Done
from scheduler.shop.forecast_rows import WeatherHour
from scheduler.shop.moments import at_site
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Unit


def arrived_units(shop: Shop, events: Iterable[Plain], done: Iterable[Done]) -> tuple[Unit, ...]:
    """Units, those that have arrived or are announced available from then on; one that is worked on already has arrived."""
    available = {unit.unit_id: unit.available_from for unit in shop.units}
    available |= {e.unit_id: at_site(e.happened_at, shop.site.tz) for e in events if isinstance(e, Arrived)}
    for row in done:
        available[row.unit_id] = min(available[row.unit_id], row.started_at)
    return tuple(unit.model_copy(update={"available_from": available[unit.unit_id]}) for unit in shop.units)


def closures_now(shop: Shop, events: Iterable[Plain]) -> tuple[Closure, ...]:
    """Closures of the folder and those that were reported, each once."""
    reported = [_closure(shop, event) for event in events if isinstance(event, Away | Down)]
    return tuple(dict.fromkeys([*shop.closures, *reported]))


def _closure(shop: Shop, event: Away | Down) -> Closure:
    tz = shop.site.tz
    what, which = (Shut.PERSON, event.person_id) if isinstance(event, Away) else (Shut(event.what), event.which)
    return Closure(
        what=what,
        which=which,
        closed_from=at_site(event.happened_at, tz),
        closed_until=at_site(event.until, tz),
        reason=event.why,
    )


def forecast_now(shop: Shop, events: Iterable[Plain]) -> tuple[WeatherHour, ...]:
    """Hours of the folder's forecast, those of later forecasts in their place; the last word on an hour counts."""
    hours = {row.at.timestamp(): row for row in shop.weather}
    for event in sorted((e for e in events if isinstance(e, Forecast)), key=lambda e: (e.happened_at, e.recorded_at)):
        hours |= {row.at.timestamp(): row for row in event.hours}
    return tuple(hours[at] for at in sorted(hours))
