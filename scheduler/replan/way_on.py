"""Units that are begun and cannot go on as they are: the surface is wiped or abraded again, if that opens a way."""

from scheduler.activities.build import Built, build_network
from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.replan.binding import earliest_end
from scheduler.replan.extend import part_of
from scheduler.replan.room import Room, room_around
from scheduler.shop.fixed import Rework, ReworkKind
from scheduler.shop.shop import Shop


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
    found = (_for_unit(shop, unit) for unit in stuck_units(built.network))
    return tuple(row for row in found if row is not None)


def with_rework(shop: Shop, rows: tuple[Rework, ...]) -> Shop:
    """Return the shop with more rework."""
    tables = {name: getattr(shop, name) for name in Shop.model_fields}
    return Shop.model_validate({**tables, "rework": (*shop.rework, *rows)})


def _for_unit(shop: Shop, unit: str) -> Rework | None:
    last = max((row for row in shop.done if row.unit_id == unit), key=lambda row: row.ended_at)
    for kind in (ReworkKind.WIPE, ReworkKind.ABRADE):
        row = Rework(unit_id=unit, after=last.step, kind=kind, reason="too late for the next coat by the time there is room")
        try:
            net = build_network(with_rework(shop, (row,))).network
        except (KeyError, ValueError):
            continue
        if unit not in stuck_units(net):
            return row
    return None


def _empty(net: Network) -> Room:
    """The shop with nobody's work in it."""
    nobody = Placed((), (), (), ())
    return room_around(net, nobody, {path.unit for path in net.paths})
