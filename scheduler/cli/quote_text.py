"""A quote in words: the date on one line, then what holds it up; and the same for a machine."""

from datetime import datetime
from typing import Final

from scheduler.cli.quote_question import Found
from scheduler.documents.words.local_time import LocalTime
from scheduler.replan.quote import Answer

MOST_REASONS: Final = 4


def quote_text(found: Found, held: str | None) -> str:
    """The date on one line, then why."""
    time_ = LocalTime(found.saved.grid.zone)
    what = ", ".join(f"{count} x {unit}" for unit, count in found.counts.items())
    lines = [f"{what}, here on {time_.text(found.arrive)}: {_dates(found, time_)}."]
    if found.asked_for is not None and found.asked_for < found.arrive:
        lines.append(_too_soon(found, found.asked_for, time_))
    if found.saved.told.upsets:
        says = " and ".join(found.saved.told.upsets)
        lines.append(f"Reported since the plan was made, and not reckoned with: {says}. Plan again first: coatrun replan.")
    if found.best is None:
        lines.append("Set a later plan_until in site.toml and plan again, or ask for fewer units.")
    lines += _staggered(found, time_)
    lines += _how_sure(found)
    lines += _reasons(found, time_)
    best = found.best
    if best is not None and best.last > found.saved.forecast_until:
        lines.append("This rests on the weather of a typical year, not on a forecast; expect it to move.")
    if held is not None:
        lines.append(f"Held as {held}; coatrun holds lists and releases.")
    return "\n".join(lines)


def _too_soon(found: Found, asked_for: datetime, time_: LocalTime) -> str:
    """Why units are reckoned from later than they were said to come."""
    if found.saved.told.until is None or found.arrive > found.saved.told.until:
        return f"{asked_for:%Y-%m-%d} is before the plan begins, so they are reckoned from its first hour."
    return f"{asked_for:%Y-%m-%d} is over by what was reported, so they are reckoned from {time_.text(found.arrive)}."


def _dates(found: Found, time_: LocalTime) -> str:
    if found.fixed is None:
        fixed = f"no room before the plan ends on {_end(found, len(found.saved.grid.real), time_)}"
    else:
        fixed = f"back on {_end(found, found.fixed.last, time_)} with nothing moved"
    if found.moving is None:
        return fixed
    if found.fixed is not None and found.moving.last >= found.fixed.last:
        return f"{fixed}, and no sooner with moves ({found.moving.moves} tried)"
    return f"{fixed}; on {_end(found, found.moving.last, time_)} if others move and no order gets later than promised"


def _end(found: Found, slot: int, time_: LocalTime) -> str:
    return time_.text(found.saved.grid.end_of(slot))


def _staggered(found: Found, time_: LocalTime) -> list[str]:
    best = found.best
    if best is None or len(best.units) == 1:
        return []
    days: dict[str, int] = {}
    for end in sorted(best.ends):
        day = _end(found, end, time_)
        days[day] = days.get(day, 0) + 1
    return ["One after the other: " + ", ".join(f"{n} on {day}" for day, n in days.items()) + "."]


def _how_sure(found: Found) -> list[str]:
    """Whether an earlier day can be ruled out where nothing moves."""
    if found.fixed is None:
        return ["That they do not fit in is proven, with all others and their people kept."] if found.day_proven else []
    if found.day_proven:
        return ["With nothing moved no earlier day is possible: proven."]
    return ["With nothing moved no earlier day was found; it is not ruled out."]


def _reasons(found: Found, time_: LocalTime) -> list[str]:
    best = found.best
    if best is None:
        return []
    if not found.binds:
        return ["What holds the last unit up: no single resource, rule or date; each alone would save nothing."]
    tied = [(bind, bind.eases[0]) for bind in found.binds[:MOST_REASONS]]
    rows = [f"  {_end(found, bind.end, time_)} with {ease.says} ({ease.rule})" for bind, ease in tied]
    return [f"What holds the last unit, due back on {_end(found, best.last, time_)}, up; it could be back on", *rows]


def quote_data(found: Found) -> dict[str, object]:
    """Everything for a machine; moments are ISO 8601 with the site's offset."""
    time_, grid = LocalTime(found.saved.grid.zone), found.saved.grid

    def one(answer: Answer | None) -> dict[str, object] | None:
        if answer is None:
            return None
        units = {unit: time_.iso(grid.end_of(end)) for unit, end in zip(answer.units, answer.ends, strict=True)}
        return {"back_at": time_.iso(grid.end_of(answer.last)), "units": units, "tried": answer.moves}

    return {
        "site": found.saved.site,
        "units": found.counts,
        "arrive_at": time_.iso(found.arrive),
        "nothing_moved": one(found.fixed),
        "nothing_moved_day_proven": found.day_proven,
        "with_moves": one(found.moving),
        "binds": [
            {"rule": b.eases[0].rule, "what": b.eases[0].what, "with": b.eases[0].says, "back_at": time_.iso(grid.end_of(b.end))}
            for b in found.binds
        ],
        "not_reckoned_with": list(found.saved.told.upsets),
        "search_s": round(found.search_s, 3),
    }
