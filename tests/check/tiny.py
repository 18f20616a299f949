"""A schedule for the tiny shop, made by hand: U1 from Monday 06:00 and U2, all alike, from Wednesday 06:00.

Local times of a unit, day 0 being its first day (lining loaded 2 h 06 min or more before it is sprayed)::

    day 0  06:00 receive        06:30 move_in-prepare  06:45 wash (30 min, dry at 08:15)  08:15 abrade (1 h)
           09:15 move_out-prepare  09:30 move_in-coat  09:45 wipe (dry at 10:15)  10:15 prime (30 min, recoat from 12:45)
           12:45 coat-1 (1 h, recoat from 17:45, after the shift)
    day 1  06:00 coat-2 (1 h, handled from 15:00)  07:00 inspect  15:00 move_out-coat
    day 2  07:00 dispatch (1 h; fit for service from 07:00)

So U1 is handed back on Wednesday at 08:00 and U2 on Friday at 08:00, before they are due that day at 17:00.
"""

from collections.abc import Callable
from datetime import datetime, timedelta

from draws import new_packs
from tiny_shop import MONDAY, tiny_shop

from scheduler.check import CheckReport, check_schedule
from scheduler.schedule.schedule import (
    Assigned,
    DeliveryDate,
    Draw,
    GoalValue,
    Provenance,
    Schedule,
    Span,
    Status,
    Stay,
    Work,
)
from scheduler.shop.methods import Step
from scheduler.shop.shop import Shop

HANDS = (("ben", "hand"), ("cleo", "hand"))
SPRAYERS = (("ada", "sprayer"), ("ben", "attendant"))
GOALS = {"lateness": 0.0, "material": 23.091, "cost": 0.0, "finish": 6.17, "even_load": 150.0}
"""Worked by hand: (1 can + 5 + 5 cartridges) x 2 and 20 first shots of 60 in 1100 mL;
50 h + 98 h = 6.17 days; Ben and Cleo 450 min each, Ada 300 min."""

Row = tuple[str, Step, str | None, tuple[int, str], int, tuple[tuple[str, str], ...], tuple[str, ...]]
ROWS: tuple[Row, ...] = (
    ("receive", Step.RECEIVE, None, (0, "06:00"), 30, HANDS[1:], ("L1", "T1")),
    ("move_in-prepare", Step.MOVE_IN, "B1", (0, "06:30"), 15, HANDS, ("L1",)),
    ("wash", Step.WASH, "B1", (0, "06:45"), 30, HANDS[:1], ("H1",)),
    ("abrade", Step.ABRADE, "B1", (0, "08:15"), 60, HANDS[1:], ("D1",)),
    ("move_out-prepare", Step.MOVE_OUT, "B1", (0, "09:15"), 15, HANDS, ("L1",)),
    ("move_in-coat", Step.MOVE_IN, "B2", (0, "09:30"), 15, HANDS, ("L1",)),
    ("wipe", Step.WIPE, "B2", (0, "09:45"), 15, HANDS[:1], ()),
    ("prime", Step.PRIME, "B2", (0, "10:15"), 30, SPRAYERS[:1], ()),
    ("coat-1", Step.COAT, "B2", (0, "12:45"), 60, SPRAYERS, ("G1#1",)),
    ("coat-2", Step.COAT, "B2", (1, "06:00"), 60, SPRAYERS, ("G1#1",)),
    ("inspect", Step.INSPECT, "B2", (1, "07:00"), 15, HANDS[1:], ()),
    ("move_out-coat", Step.MOVE_OUT, "B2", (1, "15:00"), 15, HANDS, ("L1",)),
    ("dispatch", Step.DISPATCH, None, (2, "07:00"), 60, HANDS[1:], ("L1", "T1")),
)
LOADED = {"coat-1": (0, "10:00"), "coat-2": (0, "15:00")}
COAT_NUMBERS = {"prime": 1, "coat-1": 2, "coat-2": 3}


def at(day: int, clock: str) -> datetime:
    """Local time on a day of the plan, Monday being day 0."""
    hour, minute = map(int, clock.split(":"))
    return (MONDAY + timedelta(days=day)).replace(hour=hour, minute=minute)


def tiny_schedule() -> Schedule:
    """The schedule of this module's docstring."""
    work = tuple(_work(unit_id, first, row) for unit_id, first in (("U1", 0), ("U2", 2)) for row in ROWS)
    return Schedule(
        site="Tiny shop",
        zone="Europe/Berlin",
        plan_from=at(0, "06:00"),
        plan_until=at(11, "06:00"),
        forecast_until=at(14, "02:00"),
        provenance=_provenance(),
        goals=tuple(GoalValue(name=name, value=value, bound=None, unit="", proven=False) for name, value in GOALS.items()),
        work=work,
        stays=tuple(stay for unit_id, first in (("U1", 0), ("U2", 2)) for stay in _stays(unit_id, first)),
        deliveries=(_delivery(),),
    )


def check(schedule: Schedule, **overrides: object) -> CheckReport:
    """Check a schedule against the tiny shop, its tables replaced as asked."""
    return check_schedule(tiny_shop(**overrides), schedule)


def broken(schedule: Schedule, shop: Shop | None = None, **overrides: object) -> set[str]:
    """Names of the rules that a schedule breaks."""
    report = check_schedule(shop or tiny_shop(**overrides), schedule)
    return {breach.rule for breach in report.breaches}


def edit(schedule: Schedule, work_id: str, change: Callable[[Work], dict[str, object]]) -> Schedule:
    """The schedule with fields of one work replaced."""
    rows = (work.model_copy(update=change(work)) if work.work_id == work_id else work for work in schedule.work)
    return schedule.model_copy(update={"work": tuple(rows)})


def put(schedule: Schedule, work_id: str, /, **fields: object) -> Schedule:
    """The schedule with fields of one work set."""
    return edit(schedule, work_id, lambda _work: fields)


def move(schedule: Schedule, work_id: str, start: datetime) -> Schedule:
    """The schedule with one work, its stay with it, started at another time."""

    def moved(work: Work) -> dict[str, object]:
        shift = start - work.start
        return {"spans": tuple(Span(start=span.start + shift, end=span.end + shift) for span in work.spans)}

    return with_true_stays(edit(schedule, work_id, moved))


def with_true_stays(schedule: Schedule) -> Schedule:
    """The schedule with its stays and delivery dates set by its work, as a planner would write them."""
    ends = {(w.unit_id, w.name): w for w in schedule.work}
    stays = []
    for stay in schedule.stays:
        first, last = (ends.get((stay.unit_id, f"{step}-{stay.stage}")) for step in ("move_in", "move_out"))
        stays.append(
            stay.model_copy(update={"start": first.start if first else stay.start, "end": last.end if last else stay.end})
        )
    return schedule.model_copy(update={"stays": tuple(stays)})


def without(schedule: Schedule, work_id: str) -> Schedule:
    """The schedule with one work dropped."""
    return schedule.model_copy(update={"work": tuple(work for work in schedule.work if work.work_id != work_id)})


def _work(unit_id: str, first: int, row: Row) -> Work:
    name, step, bay_id, (day, clock), length_min, people, tools = row
    start = at(first + day, clock)
    film = name in COAT_NUMBERS
    lining = step is Step.COAT
    loaded = LOADED.get(name)
    return Work(
        work_id=f"{unit_id}/{name}",
        unit_id=unit_id,
        order_id="O1",
        step=step,
        name=name,
        reason="by hand",
        bay_id=bay_id,
        spans=(Span(start=start, end=start + timedelta(minutes=length_min)),),
        people=tuple(Assigned(person_id=person_id, skill=skill) for person_id, skill in people),
        tools=tools,
        product_id=("lining" if lining else "primer") if film else None,
        area_m2=10.0 if step not in {Step.RECEIVE, Step.MOVE_IN, Step.MOVE_OUT, Step.DISPATCH} else 0.0,
        coat_numbers=(COAT_NUMBERS[name],) if film else (),
        volume_ml=(5000.0 if lining else 1250.0) if film else 0.0,
        draws=_draws(unit_id, name, at(first + loaded[0], loaded[1]) if loaded else None) if film else (),
    )


def _draws(unit_id: str, name: str, loaded_at: datetime | None) -> tuple[Draw, ...]:
    """Five cartridges for each coat, the first of U2 being the eleventh of the lot; a can for each prime."""
    second = unit_id == "U2"
    if loaded_at is None:
        return new_packs("P1", [2 if second else 1], 1250, pack_ml=1250)
    first = 1 + 10 * second + 5 * (name == "coat-2")
    return new_packs("A1", range(first, first + 5), 5000, pack_ml=1100, purge_ml=60, heel_ml=40, loaded_at=loaded_at)


def _stays(unit_id: str, first: int) -> tuple[Stay, Stay]:
    return (
        Stay(unit_id=unit_id, stage="prepare", bay_id="B1", place=1, start=at(first, "06:30"), end=at(first, "09:30")),
        Stay(unit_id=unit_id, stage="coat", bay_id="B2", place=1, start=at(first, "09:30"), end=at(first + 1, "15:15")),
    )


def _delivery() -> DeliveryDate:
    back = {"U1": at(2, "08:00"), "U2": at(4, "08:00")}
    return DeliveryDate(
        order_id="O1", customer="Town yard", due_at=at(4, "17:00"), delivered_at=back["U2"], units=back, days_late=0
    )


def _provenance() -> Provenance:
    return Provenance(
        made_at=MONDAY,
        coatrun_version="0",
        solver="by hand",
        input_hash="",
        seed=0,
        workers=1,
        status=Status.FEASIBLE,
        gap=0.0,
        first_schedule_s=None,
        search_s=0.0,
        peak_memory_mb=None,
        found_by="hand",
    )
