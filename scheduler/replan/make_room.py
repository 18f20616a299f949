"""Work out the room that a saved schedule leaves in its shop, once, for all questions that follow."""

from pathlib import Path

from scheduler.activities.build import build_network
from scheduler.activities.reread import reread
from scheduler.pipeline import NoScheduleError
from scheduler.replan.like_units import kinds_of, like_unit
from scheduler.replan.plain_grid import PlainGrid
from scheduler.replan.repair import repair
from scheduler.replan.room_around import room_around
from scheduler.replan.saved_room import Basis, Contents, SavedRoom, save_room
from scheduler.replan.seen_ahead import seen_ahead
from scheduler.schedule.schedule import Schedule
from scheduler.search.settings import Settings
from scheduler.search.solve import solve
from scheduler.shop.forecast import forecast_until
from scheduler.shop.shop import Shop


def make_room(shop: Shop, schedule: Schedule, basis: Basis, run: Path) -> SavedRoom:
    """Work out a room and keep it beside the schedule.

    Parameters
    ----------
    shop : Shop
        With what is held for others in it.
    schedule : Schedule
        What people were told; units that it does not have are put in first.
    basis : Basis
        The files, looked at before they were read.
    run : Path
        Folder of the schedule.

    Raises
    ------
    NoScheduleError
        If not all units of the shop find a place.
    OSError
        If the file cannot be written.
    """
    built = build_network(shop)
    net = built.network
    repaired = repair(net, reread(built, schedule).placed)
    if repaired is None:
        raise NoScheduleError(solve(net, Settings(time_limit_s=10)))
    until = forecast_until(shop)
    last = net.slots if until is None else int(built.grid.first_from(built.grid.minutes_at(until)))
    kinds = kinds_of(shop)
    contents = Contents(
        about={"site": shop.site.name, "names": {unit.unit_id: unit.name for unit in shop.units}, "forecast_until": last},
        grid=PlainGrid(built.grid.origin, built.grid.grid_min, tuple(built.grid.real.tolist()), built.grid.zone),
        room=room_around(net, repaired.placed),
        kinds={unit: kind for kind, units in kinds.items() for unit in units},
        parts={kind: seen_ahead(net, like_unit(shop, built, kind)) for kind in kinds},
        net=net,
        placed=repaired.placed,
    )
    return save_room(contents, basis, run)
