"""A plan that people were told, and what goes wrong with it eight days later: a lost day, a lost bay, an ill sprayer."""

import time
from datetime import datetime, timedelta
from typing import Final

from scheduler.activities.build import build_network
from scheduler.activities.placed import Placed
from scheduler.pipeline import Plan, checked
from scheduler.record.missed_windows import missed_windows
from scheduler.record.warming import warming_now
from scheduler.schedule.schedule import Status
from scheduler.search.bound import quick_bounds
from scheduler.search.improve import Improver
from scheduler.search.outcome import Outcome
from scheduler.search.settings import Settings
from scheduler.shop.calendar import Closure
from scheduler.shop.shop import Shop
from tests.as_told import begun_by

EVENTS: Final = ("lost day", "lost bay", "ill sprayer")
DAYS_IN: Final = 8
"""Days after the start of the plan on which it happens: everybody is at work by then."""


def told(shop: Shop, seed: int, moves: int) -> Plan:
    """Plan of a shop by insertion and so many moves of annealing, checked."""
    built, began = build_network(shop), time.perf_counter()
    improver = Improver(built.network, seed)
    first = improver.first()
    assert first is not None
    improver.run(lambda made: made / moves, lambda _better: None)
    assert improver.best is not None
    placed: Placed = improver.best.placed
    spent_s, bounds = time.perf_counter() - began, quick_bounds(built.network)
    outcome = Outcome(Status.FEASIBLE, placed, improver.best.value, bounds, "improvement", None, spent_s)
    return checked(shop, built, outcome, placed, Settings(seed=seed))


def moment_of(made: Plan) -> datetime:
    """When it happens."""
    return made.shop.site.plan_from.replace(hour=7, minute=0) + timedelta(days=DAYS_IN)


def happened(made: Plan, event: str) -> Shop:
    """The shop when something has gone wrong; until then everything went as it was told."""
    now = moment_of(made)
    done = begun_by(made.schedule, now)
    tables: dict[str, object] = {name: getattr(made.shop, name) for name in Shop.model_fields}
    tables |= {
        "site": made.shop.site.model_copy(update={"plan_from": now}),
        "done": done,
        "warming": warming_now(made.shop, made.schedule, {(d.unit_id, d.step) for d in done}, now),
        "closures": (*made.shop.closures, _closure(made, event, now)),
    }
    shop = Shop.model_validate(tables)
    return Shop.model_validate({**tables, "rework": missed_windows(shop)})


def _closure(made: Plan, event: str, now: datetime) -> Closure:
    """A site that is shut tomorrow, a sprayer for three days, a bay for a week: the first that can be emptied."""
    shop, tomorrow = made.shop, (now + timedelta(days=1)).replace(hour=0, minute=0)
    if event == "lost day":
        return Closure(what="site", closed_from=tomorrow, closed_until=tomorrow + timedelta(days=1), reason="storm")  # type: ignore[arg-type]
    if event == "lost bay":
        empty = {bay.bay_id: _empty_from(made, bay.bay_id, now, tomorrow) for bay in shop.bays if "coat" in bay.stages}
        bay, begin = min(empty.items(), key=lambda row: (row[1], row[0]))
        return Closure(what="bay", which=bay, closed_from=begin, closed_until=begin + timedelta(days=7), reason="roof")  # type: ignore[arg-type]
    person = next(person.person_id for person in shop.crew if "sprayer" in person.skills)
    return Closure(what="person", which=person, closed_from=tomorrow, closed_until=tomorrow + timedelta(days=3), reason="ill")  # type: ignore[arg-type]


def _empty_from(made: Plan, bay: str, now: datetime, earliest: datetime) -> datetime:
    """When the units that stand in a bay now have left it as told: wet ones cannot be carried out sooner."""
    ends = (stay.end for stay in made.schedule.stays if stay.bay_id == bay and stay.start < now < stay.end)
    return max([earliest, *ends])
