"""Why, in words with figures."""

from collections.abc import Iterator
from typing import Final

from scheduler.cli.asking_why import Asked
from scheduler.documents.changes.change_words import shift_text
from scheduler.replan.binding import Bind
from scheduler.schedule.deliveries import days_late
from scheduler.shop.day_words import day_text

MOST: Final = 6


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
    if found.until is None or (asked.day is None and not found.reaches and not found.binds_alone):
        yield from _singly(asked)
    yield from _standing_back(asked)


def _singly(asked: Asked) -> Iterator[str]:
    """What each thing gains by itself, also where that is not enough."""
    found = asked.found
    if found.binds:
        yield "With one thing eased and everybody else held where they are, it could be handed back on"
        yield from (_bind_line(asked, bind) for bind in found.binds[:MOST])
    else:
        yield "No single resource, rule or date holds it up by itself with everybody else held where they are."
        if found.until is None and found.pairs:
            yield "Several together do; it could be handed back on"
            yield from (_bind_line(asked, bind) for bind in found.pairs[:MOST])


def _limits(asked: Asked) -> Iterator[str]:
    found = asked.found
    if found.alone is not None:
        gain = shift_text(asked.at(found.alone) - asked.at(found.now))
        yield f"Alone in the shop: {_when(asked, found.alone)} ({gain}), for its own work, waits, calendar and weather."
    if found.next_best is not None and found.next_best < found.now:
        yield f"With nobody else moved it could be back on {_when(asked, found.next_best)}: see coatrun replan."
    elif found.proven:
        yield "With everybody else held where they are, people included, it cannot be back sooner: proven."


def _not_then(asked: Asked) -> Iterator[str]:
    """What stands between the unit and the day asked for, or the moment it is due."""
    found, wish = asked.found, _wish(asked)
    until = found.now if found.until is None else found.until
    if found.now <= until:
        yield f"It is back {wish} as it is planned."
    elif found.next_best is not None and found.next_best <= until:
        return  # that it could be back by then has been said
    elif found.alone is not None and found.alone > until:
        yield f"Not even alone in the shop could it be back {wish}: no other unit is to blame. There it could be back on"
        yield from (_bind_line(asked, bind, found.alone) for bind in found.binds_alone[:MOST])
    else:
        rows, nothing = found.reaches or found.pairs, "Nothing that was tried, not even all of it together, brings it back"
        yield f"It could be back {wish} with" if rows else f"{nothing} {wish}."
        yield from (_bind_line(asked, bind) for bind in rows[:MOST])


def _wish(asked: Asked) -> str:
    return "in time" if asked.day is None else f"by {day_text(asked.day.date())}"


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
