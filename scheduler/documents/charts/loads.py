"""How much of the crew, the air, the warmers and the bays is in use over time, against what there is."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from scheduler.physics.compressed_air import delivered_l_s
from scheduler.schedule.schedule import Schedule, Stay, Work
from scheduler.shop.calendar import Shut
from scheduler.shop.resources import Bay, Equipment, Kind, Person
from scheduler.shop.shop import Shop
from scheduler.shop.working_time import closed_spans, without, working_stretches

Change = tuple[datetime, float]
AmountOf = Callable[[Shop, Equipment], float]


@dataclass(frozen=True, slots=True)
class Level:
    """A value that holds from each moment to the next; zero before the first.

    Attributes
    ----------
    moments : tuple of datetime
        Aware, ascending, no two alike.
    values : tuple of float
        As many.
    """

    moments: tuple[datetime, ...]
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Load:
    """What is in use and what there is, of one resource."""

    in_use: Level
    there: Level


def level(changes: Iterable[Change]) -> Level:
    """Add up changes at moments to a level; changes at one moment count as one."""
    by_moment: dict[datetime, float] = defaultdict(float)
    for moment, amount in changes:
        by_moment[moment] += amount
    moments = sorted(moment for moment, amount in by_moment.items() if amount)
    total, values = 0.0, []
    for moment in moments:
        total += by_moment[moment]
        values.append(round(total, 6))
    return Level(tuple(moments), tuple(values))


def crew_load(shop: Shop, schedule: Schedule) -> Load:
    """People at work and people on shift."""
    busy = [(span.start, span.end, len(work.people)) for work in schedule.work for span in work.spans]
    return Load(level(_stretches(busy)), _on_shift(shop, shop.crew))


def people_load(shop: Shop, schedule: Schedule, people: Sequence[Person]) -> Load:
    """Some of the people: at work, whatever they do, and on shift."""
    ids = {person.person_id for person in people}
    heads = [(work, sum(a.person_id in ids for a in work.people)) for work in schedule.work]
    busy = [(span.start, span.end, count) for work, count in heads for span in work.spans]
    return Load(level(_stretches(busy)), _on_shift(shop, people))


def air_load(shop: Shop, schedule: Schedule) -> Load:
    """Mean air demand of the tools at work and free air delivered, L/s in sea-level terms."""
    demand = [(s.start, s.end, mean_air_l_s(shop, work)) for work in schedule.work for s in work.spans]
    return Load(level(_stretches(demand)), _there(shop, Kind.COMPRESSOR, _delivered_l_s))


def warmer_load(shop: Shop, schedule: Schedule) -> Load:
    """Cartridges in the warmers, from loading until the step that sprays them ends, and slots."""
    used = [(load.loaded_at, work.end, load.cartridges) for work in schedule.work for load in work.loads]
    return Load(level(_stretches(used)), _there(shop, Kind.WARMER, lambda _, row: (row.slots or 0) * row.count))


def bay_load(shop: Shop, schedule: Schedule) -> Load:
    """Units standing in bays, and places that are not shut."""
    return Load(_taken(schedule.stays), level(c for bay in shop.bays for c in _open_places(shop, bay)))


def place_load(shop: Shop, schedule: Schedule, bay: Bay) -> Load:
    """The same of one bay."""
    return Load(_taken(stay for stay in schedule.stays if stay.bay_id == bay.bay_id), level(_open_places(shop, bay)))


def mean_air_l_s(shop: Shop, work: Work) -> float:
    """Mean air demand of a step: each kind of tool that its method names counts once, the thirstiest row of the kind."""
    method = shop.method_of.get(work.step)
    kinds = [Kind(word) for word in (method.tools if method else ()) if word in set(Kind)]
    return sum(max((_mean_l_s(row) for row in shop.equipment_of(kind)), default=0.0) for kind in kinds)


def _mean_l_s(row: Equipment) -> float:
    return (row.air_l_s or 0.0) * (100.0 if row.duty_pct is None else row.duty_pct) / 100.0


def _delivered_l_s(shop: Shop, row: Equipment) -> float:
    return delivered_l_s((row.fad_l_s or 0.0) * row.count, shop.site.altitude_m)


def _there(shop: Shop, kind: Kind, amount_of: AmountOf) -> Level:
    """Everything of a kind over the horizon, less what is shut."""
    horizon = [(shop.site.plan_from, shop.site.plan_until)]
    return level(
        change
        for row in shop.equipment_of(kind)
        for start, end in without(horizon, closed_spans(shop, Shut.EQUIPMENT, row.equipment_id))
        for change in ((start, amount_of(shop, row)), (end, -amount_of(shop, row)))
    )


def _stretches(stretches: Iterable[tuple[datetime, datetime, float]]) -> Iterable[Change]:
    for start, end, amount in stretches:
        yield start, amount
        yield end, -amount


def _on_shift(shop: Shop, people: Iterable[Person]) -> Level:
    return level(_stretches((start, end, 1) for person in people for start, end, _ in working_stretches(shop, person)))


def _taken(stays: Iterable[Stay]) -> Level:
    return level(_stretches((stay.start, stay.end, 1) for stay in stays))


def _open_places(shop: Shop, bay: Bay) -> Iterable[Change]:
    horizon = [(shop.site.plan_from, shop.site.plan_until)]
    return _stretches((a, b, bay.places) for a, b in without(horizon, closed_spans(shop, Shut.BAY, bay.bay_id)))
