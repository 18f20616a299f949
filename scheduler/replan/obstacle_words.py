"""Obstacles in words: the step, when, the rule and what is missing."""

from typing import Final

from scheduler.activities.build import Built
from scheduler.documents.words.local_time import LocalTime
from scheduler.replan.obstacles import Obstacle
from scheduler.rules import RULES

_SAYS: Final = {
    "crew_skills": "{what} is away or at other work",
    "lifting": "{what} is not free",
    "bay_places": "no place is free in {what}",
    "respirator_hours": "{what} is at the limit of hours under a respirator",
    "air_supply": "the {what} does not suffice",
    "gun_sessions": "no {what} is free",
    "haulage": "no place or {what} is free",
    "units_away": "the customer has as many units away as it can spare",
    "warm_cartridges": "its cartridges cannot be warm by then",
    "cartridge_stock": "there is not enough of {what}",
    "air_space": "dust and vapour would meet in the air of {what}",
    "weather_window": "weather, steel or humidity are outside their limits",
    "shift_hours": "nobody works through it, or a tool is out of service",
    "release": "the unit is not there yet, or has to leave before",
    "bay_fit": "the bay does not take it",
    "done_work": "what has been done does not allow it yet, or not any more",
    "pinned_work": "a step is fixed elsewhere",
    "step_order": "{what} is not over",
    "recoat_window": "too early or too late after {what}",
    "hold_time": "too long after {what}",
    "flash_off": "too early after {what}",
    "dry_to_handle": "{what} cannot be handled yet",
    "return_to_service": "{what} is not fit for service yet",
}


def obstacle_text(built: Built, obstacle: Obstacle) -> str:
    """Say what keeps a step from its place, ``coat-2 on Tue 3 Mar 07:15: W1 is away or at other work (crew_skills)``."""
    step, rule = built.network.activities[obstacle.activity], obstacle.rule
    when = LocalTime(built.grid.zone).text(built.grid.start_of(obstacle.slot))
    says = _SAYS.get(rule, RULES[rule].says).format(what=obstacle.what or "what it needs")
    return f"{step.name} on {when}: {says} ({rule})"
