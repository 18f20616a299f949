"""The choices of a re-plan side by side, as tables and as a page: what each costs, makes of every order, and moves."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from scheduler.documents.changes.change_page import change_values
from scheduler.documents.changes.hand_over_chart import OrderMoves, chart_of
from scheduler.documents.pages.pages import page
from scheduler.documents.words.local_time import LocalTime
from scheduler.documents.words.table import Table
from scheduler.schedule.changes import Changes
from scheduler.schedule.schedule import DeliveryDate, Schedule


@dataclass(frozen=True, slots=True)
class WayOn:
    """One choice: its name, what it stands for, its schedule and what that changes for whom."""

    name: str
    says: str
    schedule: Schedule
    changes: Changes
    search_s: float

    @property
    def goals(self) -> dict[str, float]:
        """Goals by name, as the checker measured them."""
        return _goals(self.schedule)


_MOVES: Final[tuple[tuple[str, Callable[[Changes], int]], ...]] = (
    ("orders handed back later", lambda found: sum(m.shift is not None and m.shift.total_seconds() > 0 for m in found.dates)),
    ("orders handed back earlier", lambda found: sum(m.shift is not None and m.shift.total_seconds() < 0 for m in found.dates)),
    ("units that move", lambda found: len(found.units)),
    ("people with a changed day", lambda found: len(found.people)),
    ("bays with a changed day", lambda found: len(found.bays)),
)


def figures_table(told: Schedule, ways: Sequence[WayOn], time: LocalTime) -> Table:
    """What each choice costs and moves, beside what was told; material and cost of days that are over are in no choice."""
    goals, late = _goals(told), [str(sum(d.days_late > 0 for d in way.schedule.deliveries)) for way in ways]
    rows: list[tuple[str, ...]] = [
        ("days late, weighted", f"{goals.get('lateness', 0):g}", *(f"{way.goals['lateness']:g}" for way in ways)),
        ("orders late", str(sum(d.days_late > 0 for d in told.deliveries)), *late),
        ("packs from now on", "", *(f"{way.goals['material']:g}" for way in ways)),
        ("overtime and hire", "", *(f"{way.goals['cost']:.2f}" for way in ways)),
    ]
    rows += [(name, "", *(str(count(way.changes)) for way in ways)) for name, count in _MOVES]
    rows += [
        ("first change", "", *(_first(way.changes, time) for way in ways)),
        ("search", "", *(f"{way.search_s:.2f} s" for way in ways)),
    ]
    return Table("What each choice costs and moves", ("", "told", *(way.name for way in ways)), tuple(rows))


def orders_table(told: Schedule, ways: Sequence[WayOn], time: LocalTime) -> Table:
    """Hand-over of every order that any of the choices moves."""
    columns = ("order", "customer", "due", "told", *(way.name for way in ways))
    rows = tuple(_cells(order, time) for order in orders_that_move(told, ways))
    return Table("Hand-overs, choice by choice", columns, rows)


def choices_page(site: str, now: str, told: Schedule, ways: Sequence[WayOn], time: LocalTime) -> str:
    """Page of the choices, whole in one file; ``now`` is from when on it is planned again, in words."""
    orders = orders_that_move(told, ways)
    return page(
        "choices.html",
        "report",
        site=site,
        now=now,
        figures=figures_table(told, ways, time),
        chart=chart_of(orders, time) if orders else None,
        orders=orders_table(told, ways, time),
        ways=[{"name": way.name, "says": way.says, **change_values(way.changes, time)} for way in ways],
    )


def orders_that_move(told: Schedule, ways: Sequence[WayOn]) -> list[OrderMoves]:
    """Orders that any of the choices hands back at another time than told: those late in one of them first, then by due date."""
    was = {d.order_id: d for d in told.deliveries}
    now = {way.name: {d.order_id: d for d in way.schedule.deliveries} for way in ways}
    moved = dict.fromkeys(move.either.order_id for way in ways for move in way.changes.dates)
    orders = [OrderMoves(was.get(order), {name: dates.get(order) for name, dates in now.items()}) for order in moved]
    return sorted(orders, key=lambda order: (not order.late, order.either.due_at, order.either.order_id))


def _cells(order: OrderMoves, time: LocalTime) -> tuple[str, ...]:
    row = order.either
    told = time.text(order.told.delivered_at) if order.told else "new"
    return row.order_id, row.customer, time.text(row.due_at), told, *_each(order, time)


def _each(order: OrderMoves, time: LocalTime) -> Iterator[str]:
    for now in order.now.values():
        if now is None:
            yield "not planned any more"
        elif order.told and now.delivered_at == order.told.delivered_at:
            yield f"as told{_late(now)}"
        else:
            yield f"{time.text(now.delivered_at)}{_late(now)}"


def _late(delivery: DeliveryDate) -> str:
    return f", {delivery.days_late} day{'s' if delivery.days_late > 1 else ''} late" if delivery.days_late else ""


def _first(found: Changes, time: LocalTime) -> str:
    first = min((min(m.before.start, m.after.start) for m in found.moves), default=None)
    return time.text(first) if first else ""


def _goals(schedule: Schedule) -> dict[str, float]:
    return {goal.name: goal.value for goal in schedule.goals}
