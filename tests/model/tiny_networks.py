"""Networks of a few steps on an axis of twelve slots, built by hand: for each rule one that just fits and one that does not.

The two differ by one slot, one pack, one unit of a capacity or one person.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from scheduler.activities.masks import below
from scheduler.activities.network import (
    WINDOW_RULES,
    Activity,
    BayClass,
    Curve,
    Demand,
    Due,
    Lag,
    Network,
    Path,
    Pool,
    Source,
    Stay,
    Worker,
    meet,
)
from scheduler.material.pack import PackSheet

SLOTS = 12
EVERYTHING = below(SLOTS)
YARD, BAY = 0, 1
ALL_DAY = (1, 0, 12)


def step(key: str, slots: int = 1, *, bay: int = YARD, at: int | None = None, **fields: Any) -> Activity:
    """One step, ``A/wipe`` for the wipe of unit A; ``at`` is the only slot at which it may start."""
    unit, _, name = key.partition("/")
    window = EVERYTHING if at is None else 1 << at
    windows = {rule: {bay: window if rule == "pinned_work" else EVERYTHING} for rule in WINDOW_RULES}
    row: dict[str, Any] = {"order": "O", "stay": -1, "windows": windows, "starts": meet(windows), **fields}
    return Activity(key=key, unit=unit, name=name, slots=slots, **row)


def network(*steps: Activity, present: tuple[int, ...] = (), **fields: Any) -> Network:
    """Steps of one or more units, each unit's in order; units with steps in the bay have one stay over all of these."""
    units = list(dict.fromkeys(s.unit for s in steps))
    rows = list(steps)
    paths, stays = [], []
    for unit in units:
        mine = [i for i, s in enumerate(steps) if s.unit == unit]
        inside = [i for i in mine if BAY in steps[i].starts]
        if inside:
            for i in inside:
                rows[i] = replace(rows[i], stay=len(stays))
            stays.append(Stay(unit, "work", inside[0], inside[-1], (BAY,)))
        mine_stays = (len(stays) - 1,) if inside else ()
        paths.append(Path(unit, "O", mine[0], mine[-1], mine_stays, present, late_pickup=False))
    classes = (BayClass("yard", (), 9, EVERYTHING, None), BayClass("B1", ("B1",), 1, EVERYTHING, "hall"))
    row: dict[str, Any] = {"lags": (), "classes": classes, "workers": (), "pools": (), "dues": (), **fields}
    return Network(SLOTS, (0,) * SLOTS, tuple(rows), tuple(paths), tuple(stays), **row)


def person(key: str, *skills: str, **fields: Any) -> Worker:
    """Somebody who is there all day."""
    return Worker(key, frozenset(skills), EVERYTHING, **fields)


def later(slots: int) -> Curve:
    """Curve of a fixed wait: so many slots after the end."""
    return tuple(end + slots for end in range(SLOTS + 1))


def due(members: tuple[int, ...], late: Curve, **fields: Any) -> Due:
    """Lateness of an order that is delivered together."""
    return Due("O", fields.pop("weight", 1), fields.pop("together", True), members, late, **fields)


def _window(rule: str) -> Callable[[int], Network]:
    def build(spare: int) -> Network:
        row = step("A/work", 4)
        windows = {**row.windows, rule: {YARD: below(spare + 1)}}
        return network(replace(row, windows=windows, starts=meet(windows)))

    return build


def _wait(rule: str) -> Callable[[int], Network]:
    """Two steps of four slots and a wait between them that fills the day."""

    def build(spare: int) -> Network:
        lag = Lag(0, 1, rule, earliest={YARD: later(4 - spare)})
        return network(step("A/first", 4), step("A/then", 4), lags=(lag,))

    return build


def _hold(rule: str) -> Callable[[int], Network]:
    """The first step ends with slot 1, the next can only start at slot 6."""

    def build(spare: int) -> Network:
        lag = Lag(0, 1, rule, latest={YARD: later(5 + spare)})
        return network(step("A/first", 1, at=0), step("A/then", 1, at=6), lags=(lag,))

    return build


def _step_order(spare: int) -> Network:
    return network(step("A/first", 6), step("A/then", 6 - spare))


def _bay_places(spare: int) -> Network:
    return network(step("A/work", 6, bay=BAY), step("B/work", 6 - spare, bay=BAY))


def _worker(*, is_person: bool) -> Callable[[int], Network]:
    """One worker for two steps that fill the day."""

    def build(spare: int) -> Network:
        crew = (("hand", 1),)
        worker = person("ada", "hand", is_person=is_person)
        return network(step("A/work", 6, crew=crew), step("B/work", 6 - spare, crew=crew), workers=(worker,))

    return build


def _spray_attendant(spare: int) -> Network:
    """A sprayer with somebody who stands by, or without."""
    crew = (("sprayer", 1), ("attendant", 1))[: 2 + spare]
    workers = (person("ada", "sprayer"), person("ben", "attendant"))
    load = tuple(range(SLOTS))
    spray = step("A/coat", 2, crew=crew, load=load, packs=1)
    return network(spray, workers=workers, pools=(Pool("warmer", "warm_cartridges", 1),), warmer=0)


def _respirator_hours(spare: int) -> Network:
    """Seven slots under it, three of them before."""
    crew = (("hand", 1),)
    ada = person("ada", "hand", respirator_slots=7 + spare, respirator_used=((0, 3),))
    steps = (step(f"{unit}/work", 2, crew=crew, respirator=True) for unit in "AB")
    return network(*steps, workers=(ada,))


def _pool(rule: str) -> Callable[[int], Network]:
    """Two steps that last all day and take 6 and 4 of a capacity of which 2 are taken at noon."""

    def build(spare: int) -> Network:
        pool = Pool("pool", rule, 12 + spare, taken=((5, 7, 2),))
        return network(step("A/work", 12, demands=(Demand(0, 6),)), step("B/work", 12, demands=(Demand(0, 4),)), pools=(pool,))

    return build


def _gun_sessions(spare: int) -> Network:
    """Two coats of five slots with a change-over of two between them."""
    steps = (step(f"{unit}/coat", 5, demands=(Demand(0, 1, tail=2 - spare),)) for unit in "AB")
    return network(*steps, pools=(Pool("gun", "gun_sessions", 1),))


def _warm_cartridges(spare: int) -> Network:
    """Twice five slots in the only warmer slot and one of spraying: loaded at 0 and 6, sprayed at 5 and 11."""
    load = tuple(max(-1, start - (5 - spare)) for start in range(SLOTS))
    two = (person("ada", "sprayer"), person("ben", "sprayer"))
    steps = (step(f"{unit}/coat", 1, load=load, packs=1, crew=(("sprayer", 2),)) for unit in "AB")
    return network(*steps, workers=two, pools=(Pool("warmer", "warm_cartridges", 1),), warmer=0)


SHEETS = {"P": PackSheet(1_000_000, 0, 0, 0, (SLOTS,) * SLOTS, tuple(range(SLOTS + 1)))}
"""A product in packs of a litre that lose nothing, keep for ever and need no warmth."""


def lot(key: str, packs: int, first: int = 0, last: int = SLOTS) -> Source:
    """New packs of the product."""
    return Source(key, "P", packs, first, last, packs * 1_000_000, lot=key)


def begun(last: int = SLOTS, gives_ul: int = 1_000_000) -> Source:
    """A pack of the product that stands opened."""
    return Source("X", "P", 1, 0, last, gives_ul, gives_ul, "L")


def _films(*packs: int, at: int | None = None) -> tuple[Activity, ...]:
    return tuple(step(f"{u}/coat", at=at, product="P", packs=n, volume_ml=1000.0 * n) for u, n in zip("ABC", packs, strict=False))


def _cartridge_stock(spare: int) -> Network:
    """Three and two packs from a lot of two that is out of date when they are sprayed, and one of five."""
    lots = (lot("L0", 2, last=6), lot("L1", 5 + spare, first=6))
    return network(*_films(3, 2, at=6), sources=lots, sheets=SHEETS)


def _open_life(spare: int) -> Network:
    """Two packs of a lot and an opened one that keeps until the end of slot 6, in which they are sprayed."""
    return network(*_films(3, at=6), sources=(begun(7 + spare), lot("L", 2)), sheets=SHEETS)


def _opened_twice(spare: int) -> Network:
    """Two films of two packs each: three from the lot, one from the opened pack, which is there once."""
    return network(*_films(2, 2), sources=(begun(), lot("L", 3 + spare)), sheets=SHEETS)


def _air_space(spare: int) -> Network:
    """Solvent from slot 0 on, its air free after six slots, and six slots of grinding; the bay has two places."""
    clears: Mapping[int, Curve] = {BAY: later(4 - spare)}
    wipe = step("A/wipe", 2, bay=BAY, at=0, emits_vapour=True, clears=clears)
    net = network(wipe, step("B/abrade", 6, bay=BAY, emits_dust=True))
    return replace(net, classes=(net.classes[YARD], replace(net.classes[BAY], places=2)))


def _presence(rule: str) -> Callable[[int], Network]:
    """Units that are there for six slots each, one at a time."""

    def build(spare: int) -> Network:
        steps = (step("A/receive"), step("A/dispatch", 5), step("B/receive"), step("B/dispatch", 5 - spare))
        lags = (Lag(0, 1, "step_order", {YARD: later(0)}), Lag(2, 3, "step_order", {YARD: later(0)}))
        return network(*steps, lags=lags, present=(0,), pools=(Pool("room", rule, 1),))

    return build


CASES: dict[str, Callable[[int], Network]] = {
    **{rule: _window(rule) for rule in WINDOW_RULES},
    **{rule: _wait(rule) for rule in ("flash_off", "recoat_window", "dry_to_handle", "return_to_service")},
    "hold_time": _hold("hold_time"),
    "step_order": _step_order,
    "bay_places": _bay_places,
    "lifting": _worker(is_person=False),
    "crew_skills": _worker(is_person=True),
    "spray_attendant": _spray_attendant,
    "respirator_hours": _respirator_hours,
    "air_supply": _pool("air_supply"),
    "gun_sessions": _gun_sessions,
    "warm_cartridges": _warm_cartridges,
    "cartridge_stock": _cartridge_stock,
    "open_life": _open_life,
    "air_space": _air_space,
    "units_away": _presence("units_away"),
    "haulage": _presence("haulage"),
}
"""By rule a network with so much to spare: 0 just fits, -1 does not."""

MORE_CASES: dict[str, tuple[str, Callable[[int], Network]]] = {
    "too late for the next coat": ("recoat_window", _hold("recoat_window")),
    "an opened pack is one pack": ("cartridge_stock", _opened_twice),
    "no more trucks than there are": ("haulage", _pool("haulage")),
}
