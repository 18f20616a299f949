"""The whole flow on one page: shop folder -> shop -> network -> search -> schedule -> check -> documents."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from scheduler.activities.build import Built, build_network
from scheduler.activities.cartridges import NotEnoughError
from scheduler.activities.placed import Placed
from scheduler.activities.realise import Realised, realise
from scheduler.check.check import CheckReport, check_facts
from scheduler.check.facts import prepare
from scheduler.check.goals import recompute
from scheduler.collection import no_collection
from scheduler.schedule.deliveries import delivery_dates
from scheduler.schedule.schedule import Schedule, Status
from scheduler.search.outcome import Clash, Listener, Outcome
from scheduler.search.settings import Settings
from scheduler.search.so_far import SoFar
from scheduler.search.solve import solve
from scheduler.search.stated import as_measured, goals_beside_bounds, provenance
from scheduler.shop.forecast import forecast_until
from scheduler.shop.shop import Shop


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
    goals = goals_beside_bounds(shop, built, outcome, measured, settings)
    schedule = draft.model_copy(update={"goals": goals, "provenance": as_measured(draft.provenance, goals[0])})
    report = check_facts(replace(facts, schedule=schedule))
    if not report.ok:
        raise RefusedError(report)
    return Plan(shop, schedule, report, outcome)


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
        provenance=provenance(shop, outcome, settings),
        goals=goals_beside_bounds(shop, built, outcome, {}, settings),
        work=realised.work,
        stays=realised.stays,
        deliveries=delivery_dates(shop, realised.work),
    )
