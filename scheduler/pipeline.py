"""The whole flow on one page: shop folder -> shop -> network -> search -> schedule -> check -> documents."""

import resource
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from importlib.metadata import PackageNotFoundError, version

from scheduler.activities.build import Built, build_network
from scheduler.activities.cartridges import NotEnoughError
from scheduler.activities.placed import Placed
from scheduler.activities.realise import Realised, realise
from scheduler.check.check import CheckReport, check_facts
from scheduler.check.facts import prepare
from scheduler.check.goals import recompute
from scheduler.collection import no_collection
from scheduler.material.entries import PPM
from scheduler.schedule.deliveries import delivery_dates
from scheduler.schedule.schedule import GoalValue, Provenance, Schedule, Status
from scheduler.search.outcome import Bounds, Clash, Listener, Outcome
from scheduler.search.settings import Settings
from scheduler.search.so_far import SoFar
from scheduler.search.solve import solve
from scheduler.search.value import GOALS
from scheduler.shop.forecast import forecast_until
from scheduler.shop.input_hash import input_hash
from scheduler.shop.methods import Step
from scheduler.shop.shop import Shop

GOAL_UNITS = {"lateness": "weighted days", "material": "packs", "cost": "money", "finish": "unit days", "even_load": "min"}


class RefusedError(RuntimeError):
    """The checker refused what the search found; nothing is written out."""

    def __init__(self, report: CheckReport) -> None:
        self.report = report
        super().__init__("the checker refused the schedule: " + "; ".join(b.says for b in report.breaches[:5]))


class NoScheduleError(RuntimeError):
    """The search ended without a schedule; ``outcome`` says whether there is none or none was found in time."""

    def __init__(self, outcome: Outcome) -> None:
        self.outcome = outcome
        super().__init__(outcome.clash.says if outcome.clash else "no schedule was found in the time given")


@dataclass(frozen=True)
class Plan:
    """A checked schedule and what the checker measured."""

    shop: Shop
    schedule: Schedule
    report: CheckReport
    outcome: Outcome


def plan(
    shop: Shop, settings: Settings, listener: Listener = lambda _news: None, keep: Callable[[Plan], None] | None = None
) -> Plan:
    """Plan a shop.

    Parameters
    ----------
    shop : Shop
    settings : Settings
    listener : callable
        Told of every better solution or bound.
    keep : callable or None
        Given the best checked plan so far, now and then.

    Raises
    ------
    NoScheduleError
        If there is no schedule, or none was found in the time given.
    RefusedError
        If the checker refuses what was found.
    """
    built = build_network(shop)
    if keep is not None:
        listener = SoFar(lambda outcome: _unless_refused(shop, built, outcome, settings), keep, listener)
    outcome = solve(built.network, settings, listener)
    if outcome.placed is None:
        raise NoScheduleError(outcome)
    return checked(shop, built, outcome, outcome.placed, settings)


@no_collection()
def checked(
    shop: Shop, built: Built, outcome: Outcome, placed: Placed, settings: Settings, earlier: Schedule | None = None
) -> Plan:
    """Write a solution out as a schedule, measure it and check it; ``earlier`` is what people were told, if they were.

    Raises
    ------
    NoScheduleError
        If the stock does not go round once every cartridge is named: the search reckons with warmer slots for leftovers that
        may not be there.
    RefusedError
        If the checker refuses it.
    """
    try:
        realised = realise(shop, built, placed, earlier)
    except NotEnoughError as lack:
        short = Clash((), ("cartridge_stock",), f"the stock does not go round: {lack}; order a pack more, or earlier")
        raise NoScheduleError(replace(outcome, status=Status.UNKNOWN, placed=None, clash=short)) from lack
    draft = _schedule(shop, built, realised, outcome, settings)
    facts = prepare(shop, draft)
    measured = recompute(facts)
    goals = _goals(shop, built, outcome, measured, settings)
    schedule = draft.model_copy(update={"goals": goals, "provenance": _as_measured(draft.provenance, goals[0])})
    report = check_facts(replace(facts, schedule=schedule))
    if not report.ok:
        raise RefusedError(report)
    return Plan(shop, schedule, report, outcome)


def _as_measured(provenance: Provenance, first: GoalValue) -> Provenance:
    """Status and gap by the first goal as the checker measures it: the search counts leftovers that may find no warmer slot."""
    gap = round((first.value - (first.bound or 0.0)) / max(first.value, 1.0), 6)
    proven = Status.OPTIMAL if first.proven else Status.FEASIBLE
    has_answer = provenance.status in (Status.OPTIMAL, Status.FEASIBLE)
    return provenance.model_copy(update={"gap": gap, "status": proven if has_answer else provenance.status})


def _unless_refused(shop: Shop, built: Built, outcome: Outcome, settings: Settings) -> Plan | None:
    """Write a solution out while the search goes on; one that cannot be carried out is not shown to anybody."""
    try:
        return None if outcome.placed is None else checked(shop, built, outcome, outcome.placed, settings)
    except (NoScheduleError, RefusedError):
        return None


def _schedule(shop: Shop, built: Built, realised: Realised, outcome: Outcome, settings: Settings) -> Schedule:
    site = shop.site
    return Schedule(
        site=site.name,
        zone=site.zone,
        plan_from=shop.local(site.plan_from),
        plan_until=shop.local(site.plan_until),
        forecast_until=forecast_until(shop),
        provenance=_provenance(shop, outcome, settings),
        goals=_goals(shop, built, outcome, {}, settings),
        work=realised.work,
        stays=realised.stays,
        deliveries=delivery_dates(shop, realised.work),
    )


def _provenance(shop: Shop, outcome: Outcome, settings: Settings) -> Provenance:
    goal = settings.order[0]
    first, bound = getattr(outcome.value, GOALS[goal], 0), outcome.bounds.of(goal)
    first_s = outcome.first_schedule_s
    return Provenance(
        made_at=datetime.now(UTC).replace(microsecond=0),
        coatrun_version=_version("coatrun"),
        solver=f"ortools {_version('ortools')}",
        input_hash=input_hash(shop),
        seed=settings.seed,
        workers=settings.workers,
        status=outcome.status,
        gap=round((first - bound) / max(first, 1), 6),
        first_schedule_s=None if first_s is None else round(first_s, 4),
        search_s=round(outcome.search_s, 3),
        peak_memory_mb=round(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024, 1),
        found_by=outcome.found_by,
        progress=outcome.progress,
    )


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return "not installed"


def _goals(shop: Shop, built: Built, outcome: Outcome, measured: dict[str, float], settings: Settings) -> tuple[GoalValue, ...]:
    """Goals as the checker measured them, each beside the bound that the search can vouch for."""
    bounds = goal_bounds(shop, built, outcome.bounds)
    rows = []
    for name in settings.order:
        value, bound, unit = measured.get(name, 0.0), bounds[name], GOAL_UNITS[name]
        rows.append(GoalValue(name=name, value=value, bound=bound, unit=unit, proven=value <= bound + 1e-9))
    return tuple(rows)


def goal_bounds(shop: Shop, built: Built, bounds: Bounds) -> dict[str, float]:
    """Bounds in the units of the goals; cost and uneven load cannot be below nothing.

    Units that were handed back before the plan count in the finish as they were.
    """
    ends = [built.grid.end_of(end) for end in bounds.ends]
    ends += [done.ended_at for done in shop.done if done.step == Step.DISPATCH]
    finish = sum(end.timestamp() - shop.site.plan_from.timestamp() for end in ends) / 86_400
    packs = round(bounds.spent_ppm / PPM, 3)
    return {"lateness": bounds.lateness, "material": packs, "cost": 0.0, "finish": round(finish, 2), "even_load": 0.0}
