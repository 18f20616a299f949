"""One rule, resource or date at a time made easier for a unit, to see which of them holds it up and by how much."""

from collections.abc import Callable, Iterator
from dataclasses import replace

from scheduler.activities.network import Activity, meet
from scheduler.replan.ease import Ease, changed, same_part, same_room
from scheduler.replan.extend import UnitPart
from scheduler.replan.more import more_bays, more_of_pools, more_people
from scheduler.replan.room import Room
from scheduler.replan.seen_ahead import unseen

EASED_WINDOWS = ("weather_window", "release")
WITHOUT_MINIMUM = ("recoat_window", "flash_off", "dry_to_handle", "return_to_service")
PLENTY = 10**12
LONGEST = "longest wait"
"""Tells the longest wait of a rule from the shortest."""


def eases(room: Room, part: UnitPart) -> Iterator[Ease]:
    """Yield every relaxation that could matter to a unit."""
    yield from more_of_pools(room, part)
    yield from more_bays(room, part)
    yield from more_people(room.net, part)
    for rule in EASED_WINDOWS:
        yield Ease(rule, "", _WINDOW_WORDS[rule], same_room, lambda p, r=rule: _without_window(p, r))  # type: ignore[misc]
    for rule in sorted({lag.rule for lag in part.lags} & set(WITHOUT_MINIMUM)):
        yield Ease(rule, "", f"no waiting for {rule.replace('_', ' ')}", same_room, lambda p, r=rule: _no_minimum(p, r))  # type: ignore[misc]
    for rule in sorted({lag.rule for lag in part.lags if lag.latest}):
        yield Ease(rule, LONGEST, f"no longest wait for {rule.replace('_', ' ')}", same_room, lambda p, r=rule: _no_maximum(p, r))  # type: ignore[misc]
    for product in sorted({a.product for a in part.activities if a.product}):
        says = f"all {product} in stock from the start"
        yield Ease("cartridge_stock", product, says, lambda r, p=product: _plenty(r, p), same_part)  # type: ignore[misc]
    if any(a.respirator for a in part.activities):
        yield Ease("respirator_hours", "", "no limit of hours under a respirator", _no_limit, same_part)
    if any(a.emits_dust or a.emits_vapour for a in part.activities):
        yield Ease("air_space", "", "bays that do not share their air", _own_air, same_part)


_WINDOW_WORDS = {"weather_window": "weather that always allows the work", "release": "the unit here from the start"}


def _each(part: UnitPart, change: Callable[[Activity], Activity]) -> UnitPart:
    return replace(part, activities=tuple(change(a) for a in part.activities))


def _without_window(part: UnitPart, rule: str) -> UnitPart:
    def opened(activity: Activity) -> Activity:
        everything = dict.fromkeys(activity.windows[rule], -1)
        windows = {**activity.windows, rule: everything}
        return replace(activity, windows=windows, starts=meet(windows))

    return _each(part, opened)


def _no_minimum(part: UnitPart, rule: str) -> UnitPart:
    return replace(unseen(part), lags=tuple(replace(lag, earliest={}) if lag.rule == rule else lag for lag in part.lags))


def _no_maximum(part: UnitPart, rule: str) -> UnitPart:
    return replace(unseen(part), lags=tuple(replace(lag, latest={}) if lag.rule == rule else lag for lag in part.lags))


def _plenty(room: Room, product: str) -> Room:
    slots = room.net.slots
    rows = (replace(s, gives_ul=PLENTY, first=0, last=slots) if s.product == product else s for s in room.net.sources)
    return changed(room, sources=tuple(rows))


def _no_limit(room: Room) -> Room:
    return changed(room, workers=tuple(replace(w, respirator_slots=None) for w in room.net.workers))


def _own_air(room: Room) -> Room:
    return replace(room, dust={}, vapour={})
