"""The goals recomputed from shop and schedule, in the order in which they count; lower is better.

What has been done counts for when units are handed back, but not for material, money or load: those are spent.
"""

from datetime import datetime

from scheduler.check.facts import Facts
from scheduler.check.goals_cost import cost
from scheduler.check.moments import minutes
from scheduler.check.pack_stock import all_uses
from scheduler.shop.methods import Step
from scheduler.shop.unit import Delivery


def recompute(facts: Facts) -> dict[str, float]:
    """Return the value of every goal by name.

    Returns
    -------
    dict
        ``lateness`` in weighted days, ``material`` in packs, ``cost`` in money, ``finish`` in unit days, ``even_load``
        in minutes.
    """
    return {
        "lateness": lateness(facts),
        "material": material(facts),
        "cost": cost(facts),
        "finish": finish(facts),
        "even_load": even_load(facts),
    }


def handed_back(facts: Facts) -> dict[str, datetime]:
    """When each unit is handed back, UTC: the end of its dispatch; units without one are left out."""
    ends = ((unit_id, job.end) for unit_id, jobs in facts.jobs_of.items() for job in jobs if job.need.step is Step.DISPATCH)
    return dict(ends)


def days_late(facts: Facts, moment: datetime, due_at: datetime) -> int:
    """Calendar days at the site from a due date to a later moment, at least 1; 0 when it is not late."""
    due = facts.utc(due_at)
    return 0 if moment <= due else max(1, (facts.local(moment).date() - facts.local(due).date()).days)


def lateness(facts: Facts) -> float:
    """Days late times the weight of the order: of its last unit, or of each unit where they go back singly."""
    back, total = handed_back(facts), 0
    for order in facts.shop.orders:
        ends = [back[unit.unit_id] for unit in facts.shop.units_of[order.order_id] if unit.unit_id in back]
        judged = ends if order.delivery is Delivery.SINGLY else [max(ends)] if ends else []
        total += order.weight * sum(days_late(facts, end, order.due_at) for end in judged)
    return float(total)


def material(facts: Facts) -> float:
    """Packs opened, and what goes to waste at starts as a share of a pack."""
    opened, purged = 0, 0.0
    for use in all_uses(facts):
        film = use.job.need.film
        opened += use.draw.begins == "opened"
        purged += use.draw.purge_ml / film.product.pack_ml if film else 0.0
    return round(opened + purged, 3)


def finish(facts: Facts) -> float:
    """Days from the start of the plan to the hand-over, summed over units."""
    return round(sum(minutes(facts.from_now(), end) for end in handed_back(facts).values()) / 1440.0, 2)


def even_load(facts: Facts) -> float:
    """Largest less smallest attended time of a member of the crew, min."""
    load = dict.fromkeys((person.person_id for person in facts.shop.crew), 0.0)
    for job in facts.planned:
        for person_id in job.people:
            if person_id in load:
                load[person_id] += job.minutes
    return max(load.values()) - min(load.values()) if load else 0.0
