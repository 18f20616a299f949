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
from scheduler.check.pack_stock import all_uses
from scheduler.check.packs import PackUse
from scheduler.check.sweep import Claim, overloads
from scheduler.shop.calendar import Shut
from scheduler.shop.resources import Equipment, Kind

_RULE = "warm_cartridges"
_EXACT_H = 1e-6
_EXACT_K = 1e-6


def check(facts: Facts) -> Iterator[Breach]:
    """Yield cartridges that are not warm when they are sprayed, and warmer slots that hold more than one."""
    in_slot: dict[tuple[str, int, int], list[Claim[Job]]] = defaultdict(list)
    for use in all_uses(facts):
        draw = use.draw
        if draw.warmer_id is None or draw.slot is None or draw.loaded_at is None:
            yield from _not_warmed(facts, use)
            continue
        row_id, number = piece_of(draw.warmer_id)
        row = facts.equipment_by_id.get(row_id)
        if row is None or row.kind is not Kind.WARMER or not 1 <= number <= row.count or draw.slot > (row.slots or 0):
            says = f"{use.where} is warmed in slot {draw.slot} of {draw.warmer_id}, which the shop does not have"
            yield facts.breach(_RULE, (use.job,), facts.utc(draw.loaded_at), None, says)
            continue
        loaded_at = facts.utc(draw.loaded_at)
        in_slot[row_id, number, draw.slot].append(Claim(loaded_at, use.job.end, 1.0, use.job))
        yield from _load(facts, use, loaded_at, row)
    yield from _crowded(facts, in_slot)


def _not_warmed(facts: Facts, use: PackUse) -> Iterator[Breach]:
    """Yield cartridges without a warmer, unless the gun goes on with them at once."""
    if needs_warming(use.job) and use.draw.begins != "continued":
        says = f"{use.where} on {facts.when(use.job.start)} has no warmer slot"
        yield facts.breach(_RULE, (use.job,), use.job.start, 1.0, says)


def _load(facts: Facts, use: PackUse, loaded_at: datetime, row: Equipment) -> Iterator[Breach]:
    job = use.job
    if loaded_at < facts.from_now():
        yield from _was_loaded(facts, use, loaded_at)
    elif not _someone_there(facts, loaded_at):
        says = f"{use.where}: {row.equipment_id} is loaded on {facts.when(loaded_at)}, when nobody is on shift"
        yield facts.breach(_RULE, (job,), loaded_at, None, says)
    if use.before is not None and use.before.job.end > loaded_at:
        says = f"{use.where} is loaded on {facts.when(loaded_at)}, it is in use until {facts.when(use.before.job.end)}"
        yield facts.breach(_RULE, (job,), loaded_at, None, says)
    for shut in facts.closed.get((Shut.EQUIPMENT, row.equipment_id), ()):
        if shut.start < job.end and shut.end > loaded_at:
            says = f"{use.where}: {row.equipment_id} is closed from {facts.when(shut.start)} while it warms the cartridge"
            yield facts.breach(_RULE, (job,), shut.start, None, says)
    how = warming(facts, job, row)
    if isinstance(how, str):
        yield facts.breach(_RULE, (job,), loaded_at, None, f"{use.where}: {row.equipment_id} cannot warm it, {how}")
    elif how is not None:
        yield from _soak(facts, use, row, how, loaded_at)


def _was_loaded(facts: Facts, use: PackUse, loaded_at: datetime) -> Iterator[Breach]:
    """Yield cartridges that are said to be in a warmer since before the plan, of which the shop knows nothing."""
    work = use.job.work
    known = (w for w in facts.shop.warming if (w.unit_id, w.step) == (work.unit_id, work.name))
    if not any(facts.utc(row.loaded_at) <= loaded_at for row in known):
        says = f"{use.where} is to be in a warmer since {facts.when(loaded_at)}, before the plan, and nothing says that it is"
        yield facts.breach(_RULE, (use.job,), loaded_at, None, says)


def _soak(facts: Facts, use: PackUse, row: Equipment, how: Warming, loaded_at: datetime) -> Iterator[Breach]:
    job, needed_h = use.job, _needed_h(facts, use, how, loaded_at)
    short = needed_h - hours(loaded_at, job.start)
    if short > _EXACT_H:
        says = (
            f"{use.where} starts on {facts.when(job.start)}, {short:.1f} h before a cartridge loaded into {row.equipment_id} "
            f"on {facts.when(loaded_at)} is warm ({needed_h:.1f} h)"
        )
        yield facts.breach(_RULE, (job,), job.start, short, says)
    bench_c = facts.climates.coldest_air_c(job.bay.bay_id, job.start, job.end) if job.bay else None
    cooled_c = how.warmer_c if bench_c is None else how.after_bench_c(bench_c)
    if cooled_c < how.spray_min_c - _EXACT_K:
        says = (
            f"{use.where} on {facts.when(job.start)}: in air of {bench_c:.1f} °C a cartridge is at {cooled_c:.1f} °C after "
            f"{facts.shop.site.spray_load_min:g} min out of {row.equipment_id}, it is sprayed at {how.spray_min_c:g} °C or more"
        )
        yield facts.breach(_RULE, (job,), job.start, None, says)


def _needed_h(facts: Facts, use: PackUse, how: Warming, loaded_at: datetime) -> float:
    """Soak time of a cartridge from the temperature with which it goes in.

    A cartridge that was in use has lain in the air of that bay through the whole step and then in the store.
    """
    before = use.before.job if use.before is not None else None
    if before is None or before.bay is None:
        return how.soak_h
    bench_c = facts.climates.coldest_air_c(before.bay.bay_id, before.start, before.end)
    if bench_c is None:
        return how.soak_h
    used_c = how.used_c(bench_c, hours(before.start, before.end))
    return how.soak_from_h(how.rested_c(used_c, max(0.0, hours(before.end, loaded_at))))


def _someone_there(facts: Facts, moment: datetime) -> bool:
    place = bisect_right(facts.manned, moment, key=attrgetter("start")) - 1
    return place >= 0 and moment < facts.manned[place].end


def _crowded(facts: Facts, in_slot: dict[tuple[str, int, int], list[Claim[Job]]]) -> Iterator[Breach]:
    """Yield times in which one slot of a warmer holds more than one cartridge; each piece of a row is a warmer of its own."""
    for (row_id, number, slot), claims in in_slot.items():
        for overload in overloads(claims, 1.0):
            says = f"slot {slot} of {row_id}#{number} holds {overload.load:.0f} cartridges from {facts.when(overload.at)}"
            yield facts.breach(_RULE, overload.holders, overload.at, overload.load - 1.0, says)
