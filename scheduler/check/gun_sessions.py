"""gun_sessions: a gun sprays one product for one coat at a time, with time to change over; there are tools for all work."""

from collections.abc import Iterator
from itertools import pairwise
from operator import attrgetter

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job, both_done
from scheduler.check.moments import minutes
from scheduler.check.pack_stock import all_uses
from scheduler.check.packs import PackUse
from scheduler.check.tools import held, pieces, too_many, unknown_tools
from scheduler.shop.methods import MOVE_STEPS
from scheduler.shop.resources import Kind

_RULE = "gun_sessions"
_OF_OTHER_RULES = frozenset({Kind.LIFT, Kind.TRUCK, Kind.WARMER, Kind.COMPRESSOR})


def check(facts: Facts) -> Iterator[Breach]:
    """Yield film steps without a gun, guns in use twice or changed over too fast, and more tools in use than there are."""
    for job in facts.planned:
        yield from _gun(facts, job)
    yield from _changes(facts)
    for use in all_uses(facts):
        if use.draw.begins == "continued":
            yield from _goes_on(facts, use)
    for kind in Kind:
        for overload, there in too_many(facts, kind) if kind not in _OF_OTHER_RULES else ():
            says = f"{len(overload.holders)} steps want a {kind} on {facts.when(overload.at)}, there are {there}"
            yield facts.breach(_RULE, overload.holders, overload.at, overload.load - there, says)


def _gun(facts: Facts, job: Job) -> Iterator[Breach]:
    guns = pieces(facts, job, Kind.GUN)
    if job.sprays_cartridges and len(guns) != 1:
        says = f"{job.label} on {facts.when(job.start)} has {len(guns) or 'no'} gun, it needs one"
        yield facts.breach(_RULE, (job,), job.start, float(1 - len(guns)), says)
    for tool in unknown_tools(facts, job) if job.need.step not in MOVE_STEPS else ():
        says = f"{job.label} on {facts.when(job.start)} names {tool}, which the shop does not have"
        yield facts.breach(_RULE, (job,), job.start, None, says)


def _goes_on(facts: Facts, use: PackUse) -> Iterator[Breach]:
    """Yield packs that a gun is to go on with although the mixer has set or the gun is another."""
    job, before, film = use.job, use.before, use.job.need.film
    if before is None or film is None:
        yield facts.breach(_RULE, (job,), job.start, None, f"{use.where} goes on with a pack that was in no gun")
        return
    stop_min, gel_min = minutes(before.job.end, job.start), film.product.gel_time_min
    if stop_min > gel_min:
        says = f"{use.where} goes on after a stop of {stop_min:.0f} min, its mixer sets after {gel_min:g} min"
        yield facts.breach(_RULE, (job,), job.start, stop_min - gel_min, says)
    if set(pieces(facts, before.job, Kind.GUN)).isdisjoint(pieces(facts, job, Kind.GUN)):
        says = f"{use.where} goes on from {before.job.label}, which has another gun"
        yield facts.breach(_RULE, (before.job, job), job.start, None, says)


def _changes(facts: Facts) -> Iterator[Breach]:
    for (gun_id, _), claims in held(facts, Kind.GUN).items():
        change_min = facts.equipment_by_id[gun_id].change_min
        for one, two in pairwise(sorted(claims, key=attrgetter("start"))):
            short = change_min - minutes(one.end, two.start)
            if short > 0 and one.holder and two.holder and not both_done(one.holder, two.holder):
                says = (
                    f"{two.holder.label} takes {gun_id} on {facts.when(two.start)}, {short:.0f} min too soon after "
                    f"{one.holder.label} ends on {facts.when(one.end)} (change-over {change_min:g} min)"
                )
                yield facts.breach(_RULE, (one.holder, two.holder), two.start, short, says)
