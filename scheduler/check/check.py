"""Check a schedule against every rule of the trade, with no word of the planner's."""

from scheduler.check.breach import CheckReport
from scheduler.check.facts import Facts, prepare
from scheduler.check.figures import mismatches
from scheduler.check.goals import recompute
from scheduler.check.registry import CHECKS
from scheduler.schedule.schedule import Schedule
from scheduler.shop.shop import Shop

__all__ = ["CheckReport", "check_facts", "check_schedule"]


def check_schedule(shop: Shop, schedule: Schedule) -> CheckReport:
    """Check a schedule, in real datetimes and from the shop's tables alone.

    Parameters
    ----------
    shop : Shop
        A valid one, with weather for its horizon.
    schedule : Schedule
        Of any quality: what it names and the shop does not have is a breach, not an error.

    Returns
    -------
    CheckReport
        Every breach, the goals recomputed, and the figures of the schedule that differ from them.

    Raises
    ------
    ValueError
        If the shop itself cannot be read on: no weather for its horizon, a product without sheet times.
    """
    return check_facts(prepare(shop, schedule))


def check_facts(facts: Facts) -> CheckReport:
    """Check what has been prepared already; the rest is as for :func:`check_schedule`."""
    breaches = tuple(breach for check in CHECKS.values() for breach in check(facts))
    goals = recompute(facts)
    return CheckReport(breaches, goals, tuple(mismatches(facts, goals)))
