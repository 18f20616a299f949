"""Why, in words with figures, and the same for a machine."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from pathlib import Path
from typing import Final

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.saved_plan import SavedPlan, saved_plan
from scheduler.documents.changes.change_words import shift_text
from scheduler.documents.words.local_time import LocalTime
from scheduler.replan.binding import Bind
from scheduler.replan.why import Why, latest_unit, why
from scheduler.schedule.deliveries import days_late
from scheduler.shop.day_words import day_text
from scheduler.shop.faults import nearest
from scheduler.shop.shop import Shop

MOST: Final = 6
MOST_NAMED: Final = 12


@dataclass(frozen=True)
class Asked:
    """An answer with the plan that it is about."""

    saved: SavedPlan
    found: Why
    day: datetime | None

    @property
    def time(self) -> LocalTime:
        """The site's clock."""
        return LocalTime(self.saved.built.grid.zone)

    def at(self, end: int) -> datetime:
        """Moment before which a slot's work ends."""
        return self.saved.built.grid.end_of(end)


def asked_why(folder: Path, what: str, day: datetime | None, told: Path | None) -> Asked:
    """Answer a question about a unit or an order, for which its last unit stands.

    Raises
    ------
    Failed
        If the plan does not have it, or it has been handed back.
    """
    saved = saved_plan(folder, told)
    net, grid = saved.built.network, saved.built.grid
    unit = what if what in saved.shop.unit_by_id else latest_unit(net, saved.placed, what)
    if unit is None or all(path.unit != unit for path in net.paths):
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {_nobody(saved.shop, what)}")
    until = None
    if day is not None:
        evening = datetime.combine(day.date() + timedelta(days=1), time(), grid.zone)
        until = int(grid.last_until(grid.minutes_at(evening) - grid.grid_min)) + 1
    return Asked(saved, why(net, saved.placed, unit, until), day)


def _nobody(shop: Shop, what: str) -> str:
    """Why there is nothing to say of a name, and what could be asked instead."""
    orders = list(shop.order_by_id)
    some = f"the orders are {', '.join(orders[:MOST_NAMED])}{' ...' if len(orders) > MOST_NAMED else ''}"
    if what in shop.unit_by_id or what in shop.order_by_id:
        return f"{what} has been handed back; {some}"
    meant = nearest(what, [*shop.unit_by_id, *orders])
    return f"{what} is no unit and no order; {f'write {meant} if that is meant; ' if meant else ''}{some}"


def why_text(asked: Asked) -> str:
    """Where it stands, what it would be alone, and what brings it forward."""
    return "\n".join(_lines(asked))


def _lines(asked: Asked) -> Iterator[str]:
    found, time_ = asked.found, asked.time
    order = asked.saved.shop.order_by_id[found.order]
    late = days_late(asked.at(found.now).astimezone(time_.tz), asked.saved.shop.local(order.due_at))
    standing = f"{late} day{'s' if late > 1 else ''} late" if late else "on time"
    yield f"{found.unit} of order {found.order}, {order.customer}, is handed back on {_when(asked, found.now)}, {standing}."
    if asked.saved.broken:
        yield f"The shop has changed since that plan: {', '.join(asked.saved.broken[:MOST])} stand elsewhere by now."
    yield from _limits(asked)
    if found.until is not None:
        yield from _not_then(asked)
    elif found.binds:
        yield "With one thing eased and everybody else held where they are, it could be handed back on"
        yield from (_bind_line(asked, bind) for bind in found.binds[:MOST])
    else:
        yield "No single resource, rule or date holds it up by itself with everybody else held where they are."
    yield from _standing_back(asked)


def _limits(asked: Asked) -> Iterator[str]:
    found = asked.found
    if found.alone is not None:
        gain = shift_text(asked.at(found.alone) - asked.at(found.now))
        yield f"Alone in the shop: {_when(asked, found.alone)} ({gain}), for its own work, waits, calendar and weather."
    if found.next_best is not None and found.next_best < found.now:
        yield f"With nobody else moved it could be back on {_when(asked, found.next_best)}: see coatrun replan."


def _not_then(asked: Asked) -> Iterator[str]:
    found = asked.found
    day = day_text(asked.day.date()) if asked.day is not None else ""
    if found.until is not None and found.now <= found.until:
        yield f"It is back by {day} as it is planned."
        return
    if found.until is not None and found.next_best is not None and found.next_best <= found.until:
        return  # that it could be back by then has been said
    if found.alone is not None and found.until is not None and found.alone > found.until:
        yield f"By {day} it could not be back even alone in the shop. There it could be back on"
        yield from (_bind_line(asked, bind, found.alone) for bind in found.binds_alone[:MOST])
        return
    rows = found.reaches or found.pairs
    yield f"It could be back by {day} with" if rows else f"By {day} nothing that was tried brings it back, alone or two together."
    yield from (_bind_line(asked, bind) for bind in rows[:MOST])


def _standing_back(asked: Asked) -> Iterator[str]:
    rows = asked.found.in_the_way
    if rows:
        names = ", ".join(f"{row.unit} of {row.order} ({_when(asked, row.end)})" for row in rows[:MOST])
        yield f"Units that are in its way, and when it could be back without each: {names}."


def _bind_line(asked: Asked, bind: Bind, than: int | None = None) -> str:
    says = " and ".join(f"{ease.says} ({ease.rule})" for ease in bind.eases)
    gain = asked.at(bind.end) - asked.at(asked.found.now if than is None else than)
    return f"  {_when(asked, bind.end)}, {shift_text(gain)}: {says}"


def _when(asked: Asked, end: int) -> str:
    return asked.time.text(asked.at(end))


def why_data(asked: Asked) -> dict[str, object]:
    """Everything for a machine; moments are ISO 8601 with the site's offset."""
    found, time_ = asked.found, asked.time

    def at(end: int | None) -> str | None:
        return None if end is None else time_.iso(asked.at(end))

    def binds(rows: tuple[Bind, ...]) -> list[dict[str, object]]:
        return [
            {"back_at": at(b.end), "eased": [{"rule": e.rule, "what": e.what, "with": e.says} for e in b.eases]} for b in rows
        ]

    return {
        "unit_id": found.unit,
        "order_id": found.order,
        "back_at": at(found.now),
        "next_best": at(found.next_best),
        "alone": at(found.alone),
        "asked_for": None if asked.day is None else asked.day.date().isoformat(),
        "binds": binds(found.binds),
        "pairs": binds(found.pairs),
        "binds_alone": binds(found.binds_alone),
        "in_the_way": [{"unit_id": row.unit, "order_id": row.order, "back_at": at(row.end)} for row in found.in_the_way],
    }
