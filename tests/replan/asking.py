"""Questions for a date in a small shop, and what a full solve says of them."""

import threading
from dataclasses import replace
from datetime import datetime, time, timedelta

from scheduler.activities.build import build_network
from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.activities.reread import reread
from scheduler.pipeline import Plan
from scheduler.replan.frozen import freeze
from scheduler.replan.like_units import like_unit
from scheduler.replan.quote import with_spare
from scheduler.replan.room import Room
from scheduler.replan.room_around import room_around
from scheduler.search.prove import Effort, prove
from scheduler.shop.fixed import Hold
from scheduler.shop.holds import with_holds


def placed(made: Plan) -> tuple[Network, Placed]:
    """Network and solution of a plan."""
    built = build_network(made.shop)
    return built.network, reread(built, made.schedule).placed


def asked(made: Plan, unit: str, count: int, spare: int | None = None, arrive_d: int = 1) -> tuple[Room, list, Network, Placed]:  # type: ignore[type-arg]
    """Room with a pool for the customer, parts that arrive on the second day, and the whole network."""
    return asked_lines(made, {unit: count}, spare, arrive_d)


def asked_lines(made: Plan, counts: dict[str, int], spare: int | None, arrive_d: int) -> tuple[Room, list, Network, Placed]:  # type: ignore[type-arg]
    """Return the same for several lines."""
    net, there = placed(made)
    built = build_network(made.shop)
    wide, present = with_spare(net, "Q", spare)
    slot = int(built.grid.first_from(built.grid.minutes_at(made.shop.site.plan_from + timedelta(days=arrive_d))))
    likes = [like_unit(made.shop, built, unit) for unit, count in counts.items() for _ in range(count)]
    parts = [part.named(f"Q{n}", "Q", present).released(slot) for n, part in enumerate(likes)]
    return room_around(wide, there), parts, wide, there


def least_days_late(few: Plan, counts: dict[str, int], spare: int | None, arrive_d: int, due_at: datetime) -> int:
    """Least days late, proven, of a held request that is due then, everybody else kept where they were told."""
    begin = few.shop.site.plan_from
    alike = {"hold_id": "Q", "customer": "New", "most_units_away": spare, "held_until": begin.date()}
    times = {"arrives_at": begin + timedelta(days=arrive_d), "due_at": due_at}
    holds = tuple(Hold(like_unit=unit, count=count, **alike, **times) for unit, count in counts.items())  # type: ignore[arg-type]
    built = build_network(with_holds(few.shop.model_copy(update={"holds": holds})))
    told = reread(built, few.schedule)
    assert len(told.new) == sum(counts.values())
    held = [i for i, a in enumerate(built.network.activities) if a.unit not in told.new]
    net = freeze(built.network, told.placed, held).net
    late = replace(net, dues=tuple(due for due in net.dues if due.order == "Q"))
    answer = prove(late, "lateness", {}, None, Effort(60.0, 1, 4), threading.Event())
    assert answer.proven
    assert answer.objective is not None
    return answer.objective


def evening_of(few: Plan, slot: int) -> datetime:
    """End of the day on which the work before a slot ends."""
    day = build_network(few.shop).grid.end_of(slot).astimezone(few.shop.site.tz).date()
    return datetime.combine(day, time(23, 59), few.shop.site.tz)
