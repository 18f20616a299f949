"""Events in words, one line each."""

from datetime import datetime

from scheduler.record import events as e
from scheduler.shop.day_words import day_and_year_text, moment_text
from scheduler.shop.shop import Shop


def event_words(shop: Shop, event: e.AnyEvent) -> str:
    """What an event says, without its id."""
    if isinstance(event, e.Correction):
        instead = f"in its place: {event_words(shop, event.instead)}" if event.instead is not None else "it did not happen"
        return f"{event.corrects} is corrected; {instead}"
    return f"{_when(shop, event.happened_at)}  {_what(shop, event)}{f' ({event.note})' if event.note else ''}"


def _when(shop: Shop, moment: datetime) -> str:
    return moment_text(shop.local(moment))


def _what(shop: Shop, event: e.Plain) -> str:  # noqa: PLR0911
    match event:
        case e.Finished() if event.started_at is not None:
            return f"{event.work_id} finished, begun {_when(shop, event.started_at)}"
        case e.Started() if event.planned_end is not None:
            return f"{event.work_id} started, done by {_when(shop, event.planned_end)} if all goes well"
        case e.Stopped():
            return f"{event.work_id} stopped: {event.why}{_how_far(event)}"
        case e.Failed():
            return f"{event.work_id} failed: {event.cause}, {event.share_pct:g} % of it"
        case e.Loaded():
            return f"{event.cartridges} of {event.lot_id} loaded into {event.warmer_id} for {event.work_id}"
        case e.OfStep():
            return f"{event.work_id} {event.kind}"
    return _other(shop, event)


def _how_far(event: e.Stopped) -> str:
    if event.is_part:
        return f"; {100 * event.done_share:.3g} % of it is done, the rest is a step of its own"
    return "; all of it is still to do"


def _other(shop: Shop, event: e.Plain) -> str:  # noqa: PLR0911
    match event:
        case e.Used():
            return f"{event.ml:g} mL of {event.cartridge_id} used, then {event.fate.value.replace('_', ' ')}"
        case e.Reading():
            return f"{event.unit_id or event.bay_id} measured: {_values(event)}"
        case e.Arrived():
            return f"{event.unit_id} arrives"
        case e.Away():
            return f"{event.person_id} away until {_when(shop, event.until)}: {event.why}"
        case e.Down():
            return f"{event.which or 'the site'} down until {_when(shop, event.until)}: {event.why}"
        case e.Delivered():
            until = day_and_year_text(event.expires_on)
            said = f"{event.packs} of {event.product_id} delivered as lot {event.lot_id}, good until {until}"
            return said + _short_of(shop, event)
        case e.Rejected():
            return f"lot {event.lot_id} rejected: {event.why}"
        case e.Forecast():
            first, last = event.hours[0].at, event.hours[-1].at
            return f"forecast changed for {len(event.hours)} h, {_when(shop, first)} to {_when(shop, last)}"
    return event.kind


def _short_of(shop: Shop, event: e.Delivered) -> str:
    """What is said where less came of a lot than was announced."""
    announced = next((lot for lot in shop.lots if lot.lot_id == event.lot_id), None)
    if announced is None or announced.arrives_on < shop.local(event.happened_at).date() or announced.packs <= event.packs:
        return ""
    left = announced.packs - event.packs
    return f"; {left} of {announced.packs} announced did not come and are not counted on: what comes later is a lot of its own"


def _values(event: e.Reading) -> str:
    named = (
        ("air", event.air_c, "°C"),
        ("steel", event.steel_c, "°C"),
        ("dew point", event.dew_point_c, "°C"),
        ("humidity", event.rh_pct, "%"),
    )
    found = [f"{name} {value:g} {unit}" for name, value, unit in named if value is not None]
    thick = [f"film {' '.join(f'{um:g}' for um in event.dft_um)} um"] if event.dft_um else []
    return ", ".join([*found, *thick])
