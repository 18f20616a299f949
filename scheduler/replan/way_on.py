"""Units that are begun and cannot go on as they are: the surface is wiped or abraded again, if that opens a way."""

from typing import Final

from scheduler.activities.build import Built, build_network
from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.activities.routing import route_of
from scheduler.record.made_good import goes_on_after
from scheduler.replan.binding import earliest_end
from scheduler.replan.extend import part_of
from scheduler.replan.room import Room
from scheduler.replan.room_around import room_around
from scheduler.shop.fixed import Rework, ReworkKind
from scheduler.shop.shop import Shop

KINDS: Final = (ReworkKind.WIPE, ReworkKind.ABRADE)
"""From the least on."""


def stuck_units(net: Network) -> tuple[str, ...]:
    """Units on the site that would find no way on even if they had the shop to themselves."""
    room = _empty(net)
    return tuple(path.unit for path in net.paths if path.since_start and earliest_end(room, part_of(net, path)) is None)


def rework_for(shop: Shop, built: Built) -> tuple[Rework, ...]:
    """Least rework that gives every stuck unit a way on; none for a unit that it does not help.

    Parameters
    ----------
    shop : Shop
        As it stands now.
    built : Built
        Its network.
    """
    found: dict[str, Rework] = {}
    stuck = stuck_units(built.network)
    for kind in KINDS:
        found |= _helped(shop, {unit: _row(shop, unit, kind) for unit in stuck if unit not in found})
    return tuple(found[unit] for unit in stuck if unit in found)


def most_rework_of(shop: Shop, unit: str) -> Rework | None:
    """Rework after which a unit that is begun may wait for as long as it has to; None if it cannot go on after it."""
    rows = {unit: _row(shop, unit, KINDS[-1])} if any(row.unit_id == unit for row in shop.done) else {}
    return _helped(shop, rows).get(unit)


def with_rework(shop: Shop, rows: tuple[Rework, ...]) -> Shop:
    """Return the shop with more rework."""
    return shop.with_tables(rework=(*shop.rework, *rows))


def _row(shop: Shop, unit: str, kind: ReworkKind) -> Rework:
    last = max((row for row in shop.done if row.unit_id == unit), key=lambda row: row.ended_at)
    after = goes_on_after(route_of(shop, unit).steps, last.step)
    return Rework(unit_id=unit, after=after, kind=kind, reason="too late for the next coat by the time there is room")


def _helped(shop: Shop, rows: dict[str, Rework]) -> dict[str, Rework]:
    """Rows that give their unit a way on."""
    rows = {unit: row for unit, row in rows.items() if _has_route(with_rework(shop, (row,)), unit)}
    if not rows:
        return {}
    stuck = stuck_units(build_network(with_rework(shop, tuple(rows.values())), rows).network)
    return {unit: row for unit, row in rows.items() if unit not in stuck}


def _has_route(shop: Shop, unit: str) -> bool:
    """Whether the unit can be worked on like that at all: a site may have no way to do it."""
    try:
        route_of(shop, unit)
    except (KeyError, ValueError):
        return False
    return True


def _empty(net: Network) -> Room:
    """The shop with nobody's work in it."""
    nobody = Placed((), (), (), ())
    return room_around(net, nobody, {path.unit for path in net.paths})
