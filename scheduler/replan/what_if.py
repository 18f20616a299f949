"""What would help: the shop with one thing more, planned again with the same moves and seed as the shop as it is."""

import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import time as clock_time

from scheduler.activities.build import Built, build_network
from scheduler.activities.placed import Placed
from scheduler.activities.reread import reread
from scheduler.replan.fitting import Fitting
from scheduler.replan.repair import repair
from scheduler.schedule.schedule import Schedule
from scheduler.search.improve import Better, Improver
from scheduler.search.value import Value, value_of
from scheduler.shop.calendar import Shift
from scheduler.shop.resources import Equipment, Kind
from scheduler.shop.shop import Shop

SATURDAY = "sat"
SHORT_DAY = (clock_time(7), clock_time(13))
DRY_PCT = 60.0


@dataclass(frozen=True)
class Variant:
    """The shop with one thing more."""

    name: str
    says: str
    shop: Shop


@dataclass(frozen=True)
class Helped:
    """A shop planned again.

    Attributes
    ----------
    value : Value or None
        None where no plan was found.
    unit_days : float
        Days from the plan's start until each unit is handed back, summed up: slots of two shops cannot be compared.
    took_s : float
        Building the network and searching.
    spread : int
        Weighted days late by which two searches of the same shop differ; gains that are no larger say little.
    order : tuple of str
        Units by when their work begins.
    """

    name: str
    says: str
    value: Value | None
    unit_days: float
    took_s: float
    spread: int = 0
    order: tuple[str, ...] = ()


def variants(shop: Shop) -> Iterator[Variant]:
    """Yield what a shop could have more of; only what it has need of at all."""
    yield from _one_more(shop, Kind.WARMER, "warmer", "one warmer more, like {name}")
    yield from _one_more(shop, Kind.COMPRESSOR, "compressor", "one compressor more, rented, like {name}")
    yield from _one_more(shop, Kind.GUN, "gun", "one gun more, like {name}")
    yield from _one_more(shop, Kind.TRUCK, "truck", "one truck more, like {name}")
    for skill in ("sprayer", "abrader"):
        yield from _person(shop, skill)
    yield from _saturday(shop)
    yield from _dry_bay(shop)
    for stage in dict.fromkeys(stage for bay in shop.bays for stage in bay.stages):
        yield from _bay(shop, stage)


def what_helps(shop: Shop, schedule: Schedule, moves: int, seed: int, told: Callable[[str], None]) -> tuple[Helped, ...]:
    """Plan the shop as it is and each variant again from the saved schedule; as it is first, then by what is saved.

    Parameters
    ----------
    shop : Shop
        As it stands when the schedule begins.
    schedule : Schedule
    moves : int
        Counted moves for each.
    seed : int
    told : callable
        Told of each variant before it is planned.
    """
    plain = _plain(Variant("as it is", "the shop as it is", shop), schedule, moves, seed)
    rows = []
    for variant in variants(shop):
        told(variant.says)
        rows.append(_solved(variant, schedule, moves, seed))
    plain = _in_their_orders(plain, shop, rows)
    return (plain, *sorted((_no_worse(row, plain) for row in rows), key=_rank))


def _no_worse(row: Helped, plain: Helped) -> Helped:
    """A shop that has more can do what the shop as it is does, whatever a search of it has found."""
    return row if _rank(row) <= _rank(plain) else replace(row, value=plain.value, unit_days=plain.unit_days)


def _in_their_orders(plain: Helped, shop: Shop, rows: Sequence[Helped]) -> Helped:
    """The shop as it is, its units put in by the order of each variant's plan: what that alone gains, the variant does not."""
    began = time.perf_counter()
    built = build_network(shop)
    fitting, best = Fitting(built.network), plain
    for row in rows:
        if row.value is not None and _rank(row) < _rank(best):
            found = fitting.in_order(row.order)
            if found is not None:
                value, unit_days = value_of(built.network, found), _unit_days(built, found)
                best = min(best, replace(plain, value=value, unit_days=unit_days), key=_rank)
    return replace(best, took_s=plain.took_s + time.perf_counter() - began)


def _plain(shop: Variant, schedule: Schedule, moves: int, seed: int) -> Helped:
    """The shop as it is, the better of two seeds, so that nothing counts as a gain that luck would have brought as well."""
    one, two = (_solved(shop, schedule, moves, each) for each in (seed, seed + 1))
    took_s = one.took_s + two.took_s
    if one.value is None or two.value is None:
        return replace(one if two.value is None else two, took_s=took_s)
    return replace(min(one, two, key=_rank), took_s=took_s, spread=abs(one.value.lateness - two.value.lateness))


def _rank(row: Helped) -> tuple[float, ...]:
    return (1,) if row.value is None else (0, row.value.missing_ul, row.value.lateness, row.value.spent_ppm, row.unit_days)


def _solved(variant: Variant, schedule: Schedule, moves: int, seed: int) -> Helped:
    began = time.perf_counter()
    built = build_network(variant.shop)
    net = built.network
    begin = repair(net, reread(built, schedule).placed, seed)
    best = None
    if begin is not None:
        improver = Improver(net, seed)
        improver.adopt(Better(begin.placed, value_of(net, begin.placed)))
        best = _searched(improver, moves)
    if best is None:
        return Helped(variant.name, variant.says, None, 0.0, time.perf_counter() - began)
    start = best.placed.start
    order = tuple(path.unit for path in sorted(net.paths, key=lambda path: start[path.first]))
    took_s = time.perf_counter() - began
    return Helped(variant.name, variant.says, best.value, _unit_days(built, best.placed), took_s, order=order)


def _searched(improver: Improver, moves: int) -> Better | None:
    """Search for less lateness with half of the moves, then with the others for what is saved beside it."""
    half = max(1, moves // 2)
    improver.run(lambda made: made / half, lambda _better: None)
    if improver.best is not None and moves > half:
        improver.aim_past_lateness(improver.best.value.lateness)
        improver.run(lambda made: (made - half) / (moves - half), lambda _better: None, afresh=False)
    return improver.best


def _unit_days(built: Built, placed: Placed) -> float:
    net, grid = built.network, built.grid
    ends = (grid.end_of(placed.start[path.last] + net.activities[path.last].slots) for path in net.paths)
    return round(sum((end - grid.origin).total_seconds() for end in ends) / 86_400, 2)


def _one_more(shop: Shop, kind: Kind, name: str, says: str) -> Iterator[Variant]:
    rows = [row for row in shop.equipment if row.kind is kind]
    if not rows:
        return
    like = max(rows, key=_strength)
    fresh = _fresh(like.equipment_id, {e.equipment_id for e in shop.equipment})
    more = like.model_copy(update={"equipment_id": fresh, "count": 1})
    yield Variant(name, says.format(name=like.name), shop.with_tables(equipment=(*shop.equipment, more)))


def _strength(row: Equipment) -> float:
    return float(row.slots or row.fad_l_s or row.count)


def _person(shop: Shop, skill: str) -> Iterator[Variant]:
    able = [person for person in shop.crew if skill in person.skills]
    if able:
        like = able[0]
        more = like.model_copy(update={"person_id": _fresh(like.person_id, {p.person_id for p in shop.crew})})
        says = f"one {skill} more, with the skills and the shift of {like.name or like.person_id}"
        yield Variant(skill, says, shop.with_tables(crew=(*shop.crew, more)))


def _saturday(shop: Shop) -> Iterator[Variant]:
    """A short Saturday for every shift that does not work then."""
    free = [s for s in dict.fromkeys(row.shift_id for row in shop.shifts) if not _works(shop, s, SATURDAY)]
    if free:
        starts, ends = SHORT_DAY
        rows = tuple(
            Shift(shift_id=s, weekdays=(SATURDAY,), starts=starts, ends=ends, break_starts=None, break_ends=None, overtime=True)
            for s in free
        )
        says = f"a shift on Saturdays from {starts:%H:%M} to {ends:%H:%M} as overtime for {', '.join(free)}"
        yield Variant("saturday", says, shop.with_tables(shifts=(*shop.shifts, *rows)))


def _works(shop: Shop, shift_id: str, day: str) -> bool:
    return any(row.shift_id == shift_id and day in row.weekdays for row in shop.shifts)


def _dry_bay(shop: Shop) -> Iterator[Variant]:
    """A roof and a dryer over the first bay outdoors, one for coats before any other."""
    bay = next((bay for bay in sorted(shop.bays, key=lambda bay: "coat" not in bay.stages) if bay.outdoor), None)
    if bay is not None:
        dry = bay.model_copy(update={"outdoor": False, "rh_held_pct": DRY_PCT})
        says = f"a tent with a dryer over {bay.bay_id}: no rain, at most {DRY_PCT:g} % humidity"
        yield Variant("dry bay", says, shop.with_tables(bays=tuple(dry if row is bay else row for row in shop.bays)))


def _bay(shop: Shop, stage: str) -> Iterator[Variant]:
    like = next(bay for bay in shop.bays if stage in bay.stages)
    fresh = _fresh(like.bay_id, {bay.bay_id for bay in shop.bays})
    more = like.model_copy(update={"bay_id": fresh, "places": 1, "air_space": fresh})
    yield Variant(
        f"{stage} bay", f"one place more to {stage}, like those in {like.bay_id}", shop.with_tables(bays=(*shop.bays, more))
    )


def _fresh(like: str, taken: set[str]) -> str:
    return next(name for n in range(2, len(taken) + 3) if (name := f"{like}-{n}") not in taken)
