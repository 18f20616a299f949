"""A chart of hand-overs: for each order a line on which it was, is and is due; a line for each choice where there are several."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from scheduler.documents.changes.change_words import day_shift_text
from scheduler.documents.state.delivery_dates import standing
from scheduler.documents.words.local_time import LocalTime
from scheduler.schedule.changes import Changes, DateMove
from scheduler.schedule.schedule import DeliveryDate
from scheduler.shop.day_words import day_text

MARGIN_PCT = 2.5
MOST_TICKS = 8
MOST_ROWS = 40
Scale = Callable[[datetime], float]


@dataclass(frozen=True, slots=True)
class Tick:
    """A local midnight on the axis, in per cent across; two of three are ``spare`` and have no room on a phone."""

    x: float
    text: str
    spare: bool


@dataclass(frozen=True, slots=True)
class Line:
    """Where a hand-over was and is, in per cent across, and in words; ``label`` names the choice where there are several."""

    label: str
    was_x: float | None
    now_x: float | None
    says: str
    standing: str
    late: bool


@dataclass(frozen=True, slots=True)
class Row:
    """One order: its name, when it is due and when people were told that it comes."""

    name: str
    due_x: float
    due: str
    told: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class HandOverChart:
    """Hand-overs that move, an order a row; ``left_out`` move less than all of them and are not drawn."""

    rows: tuple[Row, ...]
    ticks: tuple[Tick, ...]
    left_out: int = 0


@dataclass(frozen=True, slots=True)
class OrderMoves:
    """What becomes of one order: what was told, and what each plan makes of it, by the name of the plan."""

    told: DeliveryDate | None
    now: Mapping[str, DeliveryDate | None]

    @property
    def either(self) -> DeliveryDate:
        """A delivery of the order, the told one last."""
        return next(found for found in (*self.now.values(), self.told) if found is not None)

    @property
    def late(self) -> bool:
        """Whether any of the plans hands it back late."""
        return any(side is not None and side.days_late > 0 for side in self.now.values())

    @property
    def alike(self) -> list[tuple[str, DeliveryDate | None]]:
        """What the plans make of it, those that hand it back at one moment under one name: ``few, best``."""
        groups: dict[datetime | None, list[str]] = {}
        for name, side in self.now.items():
            groups.setdefault(side.delivered_at if side else None, []).append(name)
        return [(", ".join(names), self.now[names[0]]) for names in groups.values()]

    @property
    def moments(self) -> Iterator[datetime]:
        """Everything that has to lie on the axis."""
        yield self.either.due_at
        yield from (side.delivered_at for side in (self.told, *self.now.values()) if side is not None)

    @property
    def most(self) -> timedelta:
        """How far the hand-over moves at most; without limit where an order comes or goes."""
        sides = [side for side in self.now.values() if side is not None]
        if self.told is None or len(sides) < len(self.now):
            return timedelta.max
        return max(abs(side.delivered_at - self.told.delivered_at) for side in sides)


def hand_over_chart(found: Changes, time: LocalTime) -> HandOverChart:
    """Lay out the chart of one comparison; there is at least one hand-over that moves."""
    return chart_of([_moves(move) for move in found.dates], time)


def _moves(move: DateMove) -> OrderMoves:
    return OrderMoves(move.before, {"": move.after})


def chart_of(orders: Sequence[OrderMoves], time: LocalTime) -> HandOverChart:
    """Lay the chart out; where there are many orders, those that come, go or move most, in their order."""
    by_shift = sorted(orders, key=lambda order: order.most, reverse=True)
    kept = {id(order) for order in by_shift[:MOST_ROWS]}
    drawn = [order for order in orders if id(order) in kept]
    moments = [moment for order in drawn for moment in order.moments]
    first, last = time.midnight(time.day(min(moments))), max(moments) + timedelta(hours=12)

    def x(moment: datetime) -> float:
        return round(MARGIN_PCT + (100 - 2 * MARGIN_PCT) * ((moment - first) / (last - first)), 2)

    days = list(time.days(first, last))
    shown = enumerate(days[:: 1 + len(days) // MOST_TICKS])
    ticks = tuple(Tick(x(time.midnight(day)), day_text(day), spare=n % 3 > 0) for n, day in shown)
    return HandOverChart(tuple(_row(order, x, time) for order in drawn), ticks, len(orders) - len(drawn))


def _row(order: OrderMoves, x: Scale, time: LocalTime) -> Row:
    either, told = order.either, order.told
    return Row(
        name=f"{either.order_id} {either.customer}",
        due_x=x(either.due_at),
        due=time.text(either.due_at),
        told=time.text(told.delivered_at) if told else "",
        lines=tuple(_line(label, told, now, x, time) for label, now in order.alike),
    )


def _line(label: str, told: DeliveryDate | None, now: DeliveryDate | None, x: Scale, time: LocalTime) -> Line:
    was_x = x(told.delivered_at) if told else None
    if now is None:
        return Line(label, was_x, None, "not planned any more", "", late=False)
    change = day_shift_text(told.delivered_at, now.delivered_at, time) if told else "new"
    return Line(label, was_x, x(now.delivered_at), f"{time.text(now.delivered_at)}, {change}", standing(now), now.days_late > 0)
