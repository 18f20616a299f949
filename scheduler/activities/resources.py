"""The shop's resources on the grid: named people and lifts, shared pools, bays that are alike."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from scheduler.activities.masks import below, runs, span, union
from scheduler.activities.network import Mask, Pool, Rent, Worker
from scheduler.activities.time_grid import TimeGrid, work_axis
from scheduler.physics.compressed_air import GUN_BAR, delivered_l_s, peak_l_s
from scheduler.shop.calendar import Shut
from scheduler.shop.resources import Equipment, Kind
from scheduler.shop.shop import Shop
from scheduler.shop.working_time import Stretch, closed_spans, working_stretches

COUNTED = (Kind.GUN, Kind.GRINDER, Kind.WASHER, Kind.TRUCK)


@dataclass(frozen=True, slots=True)
class Crew:
    """People and lifts as workers, the overtime slots of each, and the axis that their shifts span."""

    grid: TimeGrid
    workers: tuple[Worker, ...]
    overtime: Mapping[int, Mask]


def crew_of(shop: Shop) -> Crew:
    """Put everybody's shifts on one axis; who keeps the same shifts and is away at the same times has the same hours."""
    shift_of = {p.person_id: (p.shift_id, closed_spans(shop, Shut.PERSON, p.person_id)) for p in shop.crew}
    one_of = {shift_of[p.person_id]: p for p in shop.crew}
    stretches = {shift: working_stretches(shop, person) for shift, person in one_of.items()}
    everybody = [(start, end) for rows in stretches.values() for start, end, _ in rows]
    site = shop.site
    grid = work_axis(everybody, shop.local(site.plan_from), shop.local(site.plan_until), site.grid_min, site.tz)
    hours = {shift: _hours(grid, rows) for shift, rows in stretches.items()}
    people, overtime = [], {}
    for i, person in enumerate(shop.crew):
        free, overtime[i] = hours[shift_of[person.person_id]]
        limit = math.floor(person.respirator_h * 60 / site.grid_min + 1e-9)
        people.append(Worker(person.person_id, frozenset(person.skills), free, True, limit))
    return Crew(grid, (*people, *_lifts(shop, grid)), overtime)


def _hours(grid: TimeGrid, stretches: Iterable[Stretch]) -> tuple[Mask, Mask]:
    """Slots of some stretches, and those of them that are overtime."""
    parts = [(*grid.inside(start, end), extra) for start, end, extra in stretches]
    return union(span(a, b) for a, b, _ in parts), union(span(a, b) for a, b, extra in parts if extra)


def lift_skill(shop: Shop, mass_kg: float) -> str:
    """Name of the ability to lift a unit of this mass: the weakest lift that can."""
    able = [e.lift_kg for e in shop.equipment_of(Kind.LIFT) if e.lift_kg is not None and e.lift_kg >= mass_kg]
    return f"lift {min(able):g} kg" if able else "lift"


def _lifts(shop: Shop, grid: TimeGrid) -> list[Worker]:
    gear = shop.equipment_of(Kind.LIFT)
    powers = sorted({e.lift_kg for e in gear if e.lift_kg is not None})
    return [
        Worker(
            item_id(e, i + 1),
            frozenset(f"lift {power:g} kg" for power in powers if e.lift_kg is not None and power <= e.lift_kg),
            below(len(grid)) & ~union(span(a, b) for a, b in equipment_shut(shop, grid, e.equipment_id)),
            is_person=False,
        )
        for e in gear
        for i in range(e.count)
    ]


def item_id(row: Equipment, number: int) -> str:
    """Name of one of several alike: ``G1`` if there is one, else ``G1#2``."""
    return row.equipment_id if row.count == 1 else f"{row.equipment_id}#{number}"


def equipment_shut(shop: Shop, grid: TimeGrid, equipment_id: str, *, at_night: bool = False) -> tuple[tuple[int, int], ...]:
    """Slots in which equipment is out of service, as half-open ranges, sorted and free of overlap.

    ``at_night`` is for what is in use while nobody works, as for :func:`shut_slots`.
    """
    return shut_slots(grid, closed_spans(shop, Shut.EQUIPMENT, equipment_id), at_night=at_night)


def shut_slots(
    grid: TimeGrid, closed: Iterable[tuple[datetime, datetime]], *, at_night: bool = False
) -> tuple[tuple[int, int], ...]:
    """Slots that closures touch, as half-open ranges, sorted and free of overlap.

    With ``at_night`` a closure between two slots takes the slot after it, so that nothing runs through it.
    """
    found: list[tuple[int, int]] = []
    for start, end in sorted(grid.touched(*row) for row in closed):
        last = max(end, min(start + 1, len(grid))) if at_night else end
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], last))
        elif start < last:
            found.append((start, last))
    return tuple(found)


def in_service(shop: Shop, grid: TimeGrid, kind: Kind, slots: int) -> Mask:
    """Slots from which one and the same piece of a kind is in service for ``slots`` slots."""
    everything = below(len(grid))
    return union(
        runs(everything & ~union(span(a, b) for a, b in equipment_shut(shop, grid, row.equipment_id)), slots)
        for row in shop.equipment_of(kind)
        if row.count
    )


def _taken(
    shop: Shop, grid: TimeGrid, rows: Iterable[tuple[Equipment, int]], *, at_night: bool = False
) -> tuple[tuple[int, int, int], ...]:
    """Fixed uses by closures, as (start, end, amount)."""
    return tuple(
        (a, b, n) for row, n in rows if n > 0 for a, b in equipment_shut(shop, grid, row.equipment_id, at_night=at_night)
    )


def tool_pools(shop: Shop, grid: TimeGrid) -> list[Pool]:
    """Pools of the tools that are counted, and the warmers' slots."""
    pools = []
    for kind in COUNTED:
        rows = shop.equipment_of(kind)
        rule = {Kind.GUN: "gun_sessions", Kind.TRUCK: "haulage"}.get(kind, "air_supply")
        taken = _taken(shop, grid, [(e, e.count) for e in rows])
        pools.append(Pool(kind.value, rule, sum(e.count for e in rows), taken))
    warmers = [(e, (e.slots or 0) * e.count) for e in shop.equipment_of(Kind.WARMER)]
    pools.append(Pool("warmer", "warm_cartridges", sum(n for _, n in warmers), _taken(shop, grid, warmers, at_night=True)))
    return pools


def longest_pull_s(shop: Shop) -> float | None:
    """Longest pull of any tool of the shop; None if no tool says how long it pulls."""
    return max((e.pull_s for e in shop.equipment if e.pull_s is not None), default=None)


def air_pools(shop: Shop, grid: TimeGrid) -> list[Pool]:
    """Mean and peak air supply in tenths of a litre a second, rounded down."""
    rows = shop.equipment_of(Kind.COMPRESSOR)
    mean = [(e, _tenths(_supply_l_s(shop, e)) * e.count) for e in rows]
    peak = [(e, _tenths(_peak_l_s(shop, e)) * e.count) for e in rows]
    return [
        Pool("air mean", "air_supply", sum(n for _, n in mean), _taken(shop, grid, mean)),
        Pool("air peak", "air_supply", sum(n for _, n in peak), _taken(shop, grid, peak)),
    ]


def _tenths(flow_l_s: float) -> int:
    """Tenths of a litre a second, rounded down but for the noise of floats."""
    return math.floor(flow_l_s * 10 + 1e-9)


def _supply_l_s(shop: Shop, row: Equipment) -> float:
    return delivered_l_s(row.fad_l_s or 0.0, shop.site.altitude_m, row.gun_bar or GUN_BAR)


def _peak_l_s(shop: Shop, row: Equipment) -> float:
    """Flow of one compressor and its receiver through the longest pull; the supply alone where a figure is missing."""
    supply, high, low, pull_s = _supply_l_s(shop, row), row.cut_out_bar, row.gun_bar, longest_pull_s(shop)
    if not row.receiver_l or high is None or low is None or pull_s is None or high <= low:
        return supply
    return peak_l_s(supply, row.receiver_l, high, low, pull_s, shop.site.altitude_m)


def air_demand(shop: Shop, kind: Kind) -> tuple[int, int]:
    """Mean and peak air demand of a kind of tool in tenths of a litre a second, rounded up; the hungriest of the kind counts."""
    rows = [e for e in shop.equipment_of(kind) if e.air_l_s is not None]
    mean = max((math.ceil((e.air_l_s or 0) * (100.0 if e.duty_pct is None else e.duty_pct) / 10 - 1e-9) for e in rows), default=0)
    return mean, max((math.ceil((e.air_l_s or 0) * 10 - 1e-9) for e in rows), default=0)


def rents_of(shop: Shop, workers: tuple[Worker, ...], pools: list[Pool]) -> tuple[Rent, ...]:
    """Hired lifts by name and hired tools by level, the cheapest of a kind first."""
    found = []
    for row in shop.equipment_of(Kind.LIFT):
        keys = {item_id(row, n + 1) for n in range(row.count)}
        found += [Rent(round(row.rent_per_day * 100), worker=i) for i, w in enumerate(workers) if w.key in keys]
    for p, pool in enumerate(pools):
        rows = [e for e in shop.equipment if e.kind in COUNTED and e.kind.value == pool.key]
        rates = sorted(e.rent_per_day for e in rows for _ in range(e.count))
        found += [Rent(round(rate * 100), pool=p, level=k) for k, rate in enumerate(rates)]
    return tuple(rent for rent in found if rent.cents_a_day > 0)
