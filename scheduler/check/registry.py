"""Every check by the name of its rule."""

from collections.abc import Callable, Iterable
from typing import Final

from scheduler.check import (
    air_space,
    air_supply,
    bay_fit,
    bay_places,
    cartridge_stock,
    crew_skills,
    done_work,
    dry_to_handle,
    flash_off,
    gun_sessions,
    haulage,
    hold_time,
    lifting,
    open_life,
    pinned_work,
    recoat_window,
    release,
    respirator_hours,
    return_to_service,
    shift_hours,
    spray_attendant,
    step_order,
    units_away,
    warm_cartridges,
    weather_window,
)
from scheduler.check.breach import Breach
from scheduler.check.facts import Facts

CHECKS: Final[dict[str, Callable[[Facts], Iterable[Breach]]]] = {
    "step_order": step_order.check,
    "flash_off": flash_off.check,
    "hold_time": hold_time.check,
    "recoat_window": recoat_window.check,
    "dry_to_handle": dry_to_handle.check,
    "return_to_service": return_to_service.check,
    "bay_fit": bay_fit.check,
    "bay_places": bay_places.check,
    "lifting": lifting.check,
    "shift_hours": shift_hours.check,
    "crew_skills": crew_skills.check,
    "spray_attendant": spray_attendant.check,
    "respirator_hours": respirator_hours.check,
    "air_supply": air_supply.check,
    "gun_sessions": gun_sessions.check,
    "warm_cartridges": warm_cartridges.check,
    "cartridge_stock": cartridge_stock.check,
    "open_life": open_life.check,
    "weather_window": weather_window.check,
    "air_space": air_space.check,
    "release": release.check,
    "units_away": units_away.check,
    "haulage": haulage.check,
    "pinned_work": pinned_work.check,
    "done_work": done_work.check,
}
