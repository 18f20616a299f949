"""After a lost day, a lost bay, an ill sprayer: how fast a valid repair is there, and what the three choices cost and move.

    python -m pytest -s -o python_files='bench_*.py' tests/benchmarks/bench_replan.py

``COATRUN_BENCH_SIZES=S,M`` and ``COATRUN_BENCH_SEEDS=1,2`` make it shorter.
"""

import os
import time
from dataclasses import dataclass
from datetime import datetime, timedelta
from statistics import median
from typing import Final

from scheduler.activities.build import build_network
from scheduler.activities.placed import Placed
from scheduler.pipeline import Plan, checked
from scheduler.record.missed_windows import missed_windows
from scheduler.record.warming import warming_now
from scheduler.replan.choices import BEST, FEW, REPAIR, Choice, Wish, replan
from scheduler.schedule.schedule import Status
from scheduler.search.bound import quick_bounds
from scheduler.search.improve import Improver
from scheduler.search.outcome import Outcome
from scheduler.search.settings import Settings
from scheduler.shop.calendar import Closure
from scheduler.shop.fixed import Done
from scheduler.shop.shop import Shop
from tests.benchmarks.families import family

FAMILIES: Final = {"M": "M-many-tight-indoor-large", "L": "L-many-tight-indoor-large", "XL": "XL-many-tight-indoor-large"}
EVENTS: Final = ("lost day", "lost bay", "ill sprayer")
PLAN_S: Final = {"M": 10.0, "L": 30.0, "XL": 60.0}
CHOICES_S: Final = 6.0
DAYS_IN: Final = 8
"""Days after the start of the plan on which it happens: everybody is at work by then."""


@dataclass(frozen=True)
class Row:
    """What one event did to one shop."""

    size: str
    seed: int
    event: str
    repair_s: float
    choices_s: float
    late: dict[str, float]
    moved: dict[str, int]


def _wanted(name: str, default: str) -> list[str]:
    return os.environ.get(name, default).split(",")


def told(shop: Shop, seed: int, limit_s: float) -> Plan:
    """Plan of a shop by insertion and annealing, checked."""
    built, began = build_network(shop), time.perf_counter()
    improver = Improver(built.network, seed)
    first = improver.first()
    assert first is not None
    improver.run(lambda _moves: (time.perf_counter() - began) / limit_s, lambda _better: None)
    assert improver.best is not None
    placed: Placed = improver.best.placed
    outcome = Outcome(Status.FEASIBLE, placed, improver.best.value, quick_bounds(built.network), "improvement", None, limit_s)
    return checked(shop, built, outcome, placed, Settings(seed=seed))


def happened(made: Plan, event: str, now: datetime) -> Shop:
    """The shop when something has gone wrong; until then everything went as it was told."""
    begun = [w for w in made.schedule.work if w.start < now]
    done = tuple(
        Done(
            unit_id=w.unit_id, step=w.name, started_at=w.start, ended_at=w.end, bay_id=w.bay_id,
            people=tuple(p.person_id for p in w.people), tools=w.tools,
        )
        for w in begun
    )  # fmt: skip
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
    """A site that is shut tomorrow, a bay for a week, a sprayer for three days; a bay that is empty when it is lost."""
    shop = made.shop
    tomorrow = (now + timedelta(days=1)).replace(hour=0, minute=0)
    if event == "lost day":
        return Closure(what="site", closed_from=tomorrow, closed_until=tomorrow + timedelta(days=1), reason="storm")  # type: ignore[arg-type]
    if event == "lost bay":
        full = {stay.bay_id for stay in made.schedule.stays if stay.start < now < stay.end}
        bays = sorted((bay.bay_id in full, bay.bay_id) for bay in shop.bays if "coat" in bay.stages)
        bay = bays[0][1]
        return Closure(what="bay", which=bay, closed_from=tomorrow, closed_until=tomorrow + timedelta(days=7), reason="roof")  # type: ignore[arg-type]
    person = next(person.person_id for person in shop.crew if "sprayer" in person.skills)
    return Closure(what="person", which=person, closed_from=tomorrow, closed_until=tomorrow + timedelta(days=3), reason="ill")  # type: ignore[arg-type]


def measured(size: str, seed: int, event: str, made: Plan) -> Row:
    """Repair and the three choices."""
    now = made.shop.site.plan_from.replace(hour=7, minute=0) + timedelta(days=DAYS_IN)
    shop = happened(made, event, now)
    began = time.perf_counter()
    found = replan(shop, made.schedule, Wish(Settings(seed=seed, time_limit_s=CHOICES_S)))
    choices_s = time.perf_counter() - began
    by_name: dict[str, Choice] = {choice.name: choice for choice in found.choices}
    late = {name: choice.plan.schedule.goals[0].value for name, choice in by_name.items()}
    moved = {name: len(choice.moved) for name, choice in by_name.items()}
    return Row(size, seed, event, found.choices[0].search_s, choices_s, late, moved)


def test_replan() -> None:
    """Print a table; nothing is asserted of the clock."""
    print("\nsize seed event        repair s  choices s  late repair/few/best     moved repair/few/best")
    rows = []
    for size in _wanted("COATRUN_BENCH_SIZES", "M,L,XL"):
        for seed in map(int, _wanted("COATRUN_BENCH_SEEDS", "1,2,3,4,5,6,7,8,9,10")):
            made = told(family(FAMILIES[size]).shop(seed), seed, PLAN_S[size])
            for event in EVENTS:
                row = measured(size, seed, event, made)
                rows.append(row)
                print(_line(row))
    for size in dict.fromkeys(row.size for row in rows):
        print(_summary(size, [row for row in rows if row.size == size]))


def _line(row: Row) -> str:
    late = "/".join(f"{row.late.get(name, -1):g}" for name in (REPAIR, FEW, BEST))
    moved = "/".join(str(row.moved.get(name, -1)) for name in (REPAIR, FEW, BEST))
    return f"{row.size:4} {row.seed:4d} {row.event:12} {row.repair_s:8.3f}  {row.choices_s:9.2f}  {late:23}  {moved}"


def _summary(size: str, rows: list[Row]) -> str:
    whole = [row for row in rows if {REPAIR, FEW, BEST} <= set(row.late)]
    few = sum(3 * row.moved[FEW] <= row.moved[BEST] for row in whole)
    near = sum(row.late[FEW] <= 1.1 * row.late[BEST] + 1e-9 for row in whole)
    both = sum(3 * row.moved[FEW] <= row.moved[BEST] and row.late[FEW] <= 1.1 * row.late[BEST] + 1e-9 for row in whole)
    return (
        f"{size}: repair median {median(row.repair_s for row in rows):.3f} s, most {max(row.repair_s for row in rows):.3f} s; "
        f"choices most {max(row.choices_s for row in rows):.1f} s; of {len(rows)}, few moves at most a third of best {few}, "
        f"is at most 10 % later {near}, both {both}"
    )
