"""warm_cartridges: every cartridge soaks long enough in a warmer slot, loaded while someone is there, and stays warm outside.

The product's safety data sheet sets the highest temperature; nothing here says that a temperature is permitted.
"""

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime
from operator import attrgetter

from scheduler.check.breach import Breach
from scheduler.check.cartridges import Warming, needs_warming, warming
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job, piece_of
from scheduler.check.moments import hours
from scheduler.check.sweep import Claim, overloads
from scheduler.schedule.schedule import WarmerLoad
from scheduler.shop.calendar import Shut
from scheduler.shop.resources import Equipment, Kind

_RULE = "warm_cartridges"
_EXACT_H = 1e-6
_EXACT_K = 1e-6


def check(facts: Facts) -> Iterator[Breach]:
    """Yield film steps whose cartridges are not warm, and warmers with more cartridges than slots."""
    in_warmer: dict[tuple[str, int], list[Claim[Job]]] = defaultdict(list)
    for job in facts.planned:
        if needs_warming(job):
            yield from _count(facts, job)
        for load in job.work.loads:
            row_id, number = piece_of(load.equipment_id)
            row = facts.equipment_by_id.get(row_id)
            if row is None or row.kind is not Kind.WARMER or not 1 <= number <= row.count:
                says = f"{job.label} warms cartridges in {load.equipment_id}, which is not a warmer of the shop"
                yield facts.breach(_RULE, (job,), facts.utc(load.loaded_at), None, says)
                continue
            in_warmer[row_id, number].append(Claim(facts.utc(load.loaded_at), job.end, float(load.cartridges), job))
            yield from _load(facts, job, load, row)
    yield from _crowded(facts, in_warmer)


def _count(facts: Facts, job: Job) -> Iterator[Breach]:
    warmed = sum(load.cartridges for load in job.work.loads)
    if warmed != job.work.packs:
        says = f"{job.label} on {facts.when(job.start)} sprays {job.work.packs} cartridges, {warmed} of them are warmed"
        yield facts.breach(_RULE, (job,), job.start, float(abs(job.work.packs - warmed)), says)


def _load(facts: Facts, job: Job, load: WarmerLoad, row: Equipment) -> Iterator[Breach]:
    loaded_at = facts.utc(load.loaded_at)
    if not _someone_there(facts, loaded_at):
        says = f"{job.label}: {row.equipment_id} is loaded on {facts.when(loaded_at)}, when nobody is on shift"
        yield facts.breach(_RULE, (job,), loaded_at, None, says)
    for shut in facts.closed.get((Shut.EQUIPMENT, row.equipment_id), ()):
        if shut.start < job.end and shut.end > loaded_at:
            says = f"{job.label}: {row.equipment_id} is closed from {facts.when(shut.start)} while it warms the cartridges"
            yield facts.breach(_RULE, (job,), shut.start, None, says)
    how = warming(facts, job, row)
    if isinstance(how, str):
        yield facts.breach(_RULE, (job,), loaded_at, None, f"{job.label}: {row.equipment_id} cannot warm the cartridges, {how}")
    elif how is not None:
        yield from _soak(facts, job, row, how, loaded_at)


def _soak(facts: Facts, job: Job, row: Equipment, how: Warming, loaded_at: datetime) -> Iterator[Breach]:
    short = how.soak_h - hours(loaded_at, job.start)
    if short > _EXACT_H:
        says = (
            f"{job.label} starts on {facts.when(job.start)}, {short:.1f} h before cartridges loaded into {row.equipment_id} "
            f"on {facts.when(loaded_at)} are warm ({how.soak_h:.1f} h)"
        )
        yield facts.breach(_RULE, (job,), job.start, short, says)
    bench_c = facts.climates.coldest_air_c(job.bay.bay_id, job.start, job.end) if job.bay else None
    cooled_c = how.warmer_c if bench_c is None else how.after_bench_c(bench_c)
    if cooled_c < how.spray_min_c - _EXACT_K:
        says = (
            f"{job.label} on {facts.when(job.start)}: in air of {bench_c:.1f} °C a cartridge is at {cooled_c:.1f} °C after "
            f"{facts.shop.site.spray_load_min:g} min out of {row.equipment_id}, it is sprayed at {how.spray_min_c:g} °C or more"
        )
        yield facts.breach(_RULE, (job,), job.start, None, says)


def _someone_there(facts: Facts, moment: datetime) -> bool:
    place = bisect_right(facts.manned, moment, key=attrgetter("start")) - 1
    return place >= 0 and moment < facts.manned[place].end


def _crowded(facts: Facts, in_warmer: dict[tuple[str, int], list[Claim[Job]]]) -> Iterator[Breach]:
    """Yield times in which one warmer holds more cartridges than it has slots; each piece of a row is a warmer of its own."""
    for (row_id, number), claims in in_warmer.items():
        slots = facts.equipment_by_id[row_id].slots or 0
        for overload in overloads(claims, float(slots)):
            says = f"{row_id}#{number} holds {overload.load:.0f} cartridges from {facts.when(overload.at)}, it has {slots} slots"
            yield facts.breach(_RULE, overload.holders, overload.at, overload.load - slots, says)
