"""Events of what the shop does not have: of a unit that left its tables since, or in a file of another schedule."""

from collections.abc import Container, Iterable, Iterator

from scheduler.record import events as e
from scheduler.record.standing import standing
from scheduler.shop.shop import Shop


def known_here(shop: Shop, events: Iterable[e.AnyEvent]) -> tuple[e.Plain, ...]:
    """Events that stand and speak of nothing but what the shop has."""
    stands = standing(events)
    lots = _lots(shop, stands)
    return tuple(event for event in stands if _lacks(shop, event, lots) is None)


def foreign(shop: Shop, events: Iterable[e.AnyEvent]) -> Iterator[tuple[e.Plain, str]]:
    """Yield events that stand and do not count, each with what it names that the shop does not have."""
    stands = standing(events)
    lots = _lots(shop, stands)
    for event in stands:
        lacks = _lacks(shop, event, lots)
        if lacks is not None:
            yield event, lacks


def is_foreign(shop: Shop, event: e.Plain) -> str | None:
    """What an event names that the shop does not have, but for lots, which may have come since."""
    return _lacks(shop, event, {event.lot_id} if isinstance(event, e.Used) else ())


def _lots(shop: Shop, stands: Iterable[e.Plain]) -> set[str]:
    """Lots that the shop has, or that were delivered."""
    came = (event.lot_id for event in stands if isinstance(event, e.Delivered))
    return {*(lot.lot_id for lot in shop.lots), *(pack.lot_id for pack in shop.opened), *came}


def _lacks(shop: Shop, event: e.Plain, lots: Container[str]) -> str | None:
    named = _named(shop, event, lots)
    return next((f"{what} {which}" for what, which, known in named if which and which not in known), None)


def _named(shop: Shop, event: e.Plain, lots: Container[str]) -> Iterator[tuple[str, str | None, Container[str]]]:
    """Yield what an event names: kind, id, and the ids that the shop has."""
    match event:
        case e.OfStep():
            yield "unit", event.unit_id, shop.unit_by_id
            yield "bay", getattr(event, "bay_id", None), shop.bay_by_id
        case e.Used():
            yield "lot", event.lot_id, lots
        case e.Reading():
            yield "unit", event.unit_id, shop.unit_by_id
            yield "bay", event.bay_id, shop.bay_by_id
        case e.Arrived():
            yield "unit", event.unit_id, shop.unit_by_id
        case e.Away():
            yield "person", event.person_id, shop.person_by_id
        case e.Down():
            yield "bay or equipment", event.which, {*shop.bay_by_id, *(row.equipment_id for row in shop.equipment)}
        case e.Delivered():
            yield "product", event.product_id, shop.product_by_id
