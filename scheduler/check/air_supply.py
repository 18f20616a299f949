"""air_supply: tools that run together stay within the free air delivered, and their short pulls within the receivers.

Flows are litres of free air a second, as tools and compressors state them. Compressed air injures: receivers, hoses and
fittings belong to licensed practice and local codes, not to this check.
"""

from collections.abc import Callable, Iterator

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.check.sweep import Claim, overloads
from scheduler.check.tools import closures
from scheduler.physics.compressed_air import GUN_BAR, delivered_l_s, peak_l_s
from scheduler.shop.resources import Equipment, Kind

_RULE = "air_supply"


def check(facts: Facts) -> Iterator[Breach]:
    """Yield times in which tools want more air than the compressors that are open give."""
    mean, peak = _tool_demands(facts)
    yield from _short(facts, "on average", mean, lambda row: _delivered_l_s(facts, row))
    yield from _short(facts, "in a pull", peak, lambda row: _peak_l_s(facts, row))


def _tool_demands(facts: Facts) -> tuple[dict[str, float], dict[str, float]]:
    """Return mean and peak demand of a tool by its kind, L/s; the largest row of a kind stands for all."""
    mean: dict[str, float] = {}
    peak: dict[str, float] = {}
    for row in facts.shop.equipment:
        if row.air_l_s is not None and row.kind is not Kind.COMPRESSOR:
            share = 1.0 if row.duty_pct is None else row.duty_pct / 100.0
            mean[row.kind.value] = max(mean.get(row.kind.value, 0.0), row.air_l_s * share)
            peak[row.kind.value] = max(peak.get(row.kind.value, 0.0), row.air_l_s)
    return mean, peak


def _short(facts: Facts, how: str, demand: dict[str, float], gives: Callable[[Equipment], float]) -> Iterator[Breach]:
    rows = facts.shop.equipment_of(Kind.COMPRESSOR)
    supply = {row.equipment_id: gives(row) for row in rows}
    total = sum(supply.values())
    claims = [claim for job in facts.holding for claim in _claims(job, demand)]
    for overload in overloads([*claims, *closures(facts, rows, supply)], total):
        if any(not job.work.done for job in overload.holders):
            names = ", ".join(job.label for job in overload.holders)
            says = (
                f"tools of {names} on {facts.when(overload.at)} want {overload.load - total:.1f} L/s of air more "
                f"{how} than there is ({total:.1f} L/s with nothing closed)"
            )
            yield facts.breach(_RULE, overload.holders, overload.at, overload.load - total, says)


def _claims(job: Job, demand: dict[str, float]) -> Iterator[Claim[Job]]:
    wanted = sum(demand.get(kind, 0.0) for kind in job.method.tools)
    if wanted > 0:
        yield from (Claim(span.start, span.end, wanted, job) for span in job.spans)


def _delivered_l_s(facts: Facts, row: Equipment) -> float:
    return delivered_l_s((row.fad_l_s or 0.0) * row.count, facts.shop.site.altitude_m, row.gun_bar or GUN_BAR)


def _peak_l_s(facts: Facts, row: Equipment) -> float:
    """Return what a compressor and its receiver give for the longest pull of any tool; without pressures, just the delivery."""
    pull_s = max((tool.pull_s for tool in facts.shop.equipment if tool.pull_s is not None), default=None)
    supply, low, high = _delivered_l_s(facts, row), row.gun_bar, row.cut_out_bar
    if pull_s is None or low is None or high is None or high <= low:
        return supply
    return peak_l_s(supply, (row.receiver_l or 0.0) * row.count, high, low, pull_s, facts.shop.site.altitude_m)
