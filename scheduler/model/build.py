"""Put the model together: window rules narrow the starts, the variables are made, the other rules tie them."""

from collections.abc import Callable, Collection, Mapping, Sequence
from typing import Final

from scheduler.activities.network import Mask, Network
from scheduler.model.air_space import air_space
from scheduler.model.air_supply import air_supply
from scheduler.model.bay_fit import bay_fit
from scheduler.model.bay_places import bay_places
from scheduler.model.cartridge_stock import cartridge_stock
from scheduler.model.crew_skills import crew_skills
from scheduler.model.done_work import done_work
from scheduler.model.dry_to_handle import dry_to_handle
from scheduler.model.flash_off import flash_off
from scheduler.model.gun_sessions import gun_sessions
from scheduler.model.haulage import haulage
from scheduler.model.hold_time import hold_time
from scheduler.model.lifting import lifting
from scheduler.model.open_life import open_life
from scheduler.model.pinned_work import pinned_work
from scheduler.model.recoat_window import recoat_window
from scheduler.model.release import release
from scheduler.model.respirator_hours import respirator_hours
from scheduler.model.return_to_service import return_to_service
from scheduler.model.shift_hours import shift_hours
from scheduler.model.spray_attendant import spray_attendant
from scheduler.model.step_order import step_order
from scheduler.model.units_away import units_away
from scheduler.model.variables import Variables
from scheduler.model.warm_cartridges import warm_cartridges
from scheduler.model.weather_window import weather_window

ModelRule = Callable[[Variables], None]

WINDOWS: Final[Mapping[str, ModelRule]] = {
    "bay_fit": bay_fit,
    "shift_hours": shift_hours,
    "weather_window": weather_window,
    "release": release,
    "pinned_work": pinned_work,
    "done_work": done_work,
}
TIES: Final[Mapping[str, ModelRule]] = {
    "step_order": step_order,
    "flash_off": flash_off,
    "hold_time": hold_time,
    "recoat_window": recoat_window,
    "dry_to_handle": dry_to_handle,
    "return_to_service": return_to_service,
    "bay_places": bay_places,
    "lifting": lifting,
    "crew_skills": crew_skills,
    "spray_attendant": spray_attendant,
    "respirator_hours": respirator_hours,
    "air_supply": air_supply,
    "gun_sessions": gun_sessions,
    "warm_cartridges": warm_cartridges,
    "cartridge_stock": cartridge_stock,
    "open_life": open_life,
    "air_space": air_space,
    "units_away": units_away,
    "haulage": haulage,
}
MODEL_RULES: Final[Mapping[str, ModelRule]] = {**WINDOWS, **TIES}


def build_model(net: Network, without: Collection[str] = (), within: Sequence[Mapping[int, Mask]] | None = None) -> Variables:
    """Build the model of a network.

    Parameters
    ----------
    net : Network
    without : collection of str
        Rules to leave out, to find out which of them clash.
    within : sequence of mapping of int to Mask, optional
        Starts of each activity by bay class outside of which nothing is looked for.
    """
    v = Variables(net)
    if within is not None:
        v.keep(within)
    for name, rule in WINDOWS.items():
        if name not in without:
            rule(v)
    v.create()
    for name, rule in TIES.items():
        if name not in without:
            rule(v)
    if v.impossible:
        v.model.add_bool_or([])
    return v
