"""The shop with one thing more: a warmer, a compressor, a person, a Saturday, a dry bay."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import time as clock_time

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
