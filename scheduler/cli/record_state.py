"""What coatrun record shows: the state now, and every event."""

from collections.abc import Iterator
from datetime import datetime

from scheduler.cli.text_table import text_table
from scheduler.record.desk import Desk
from scheduler.record.event_words import event_words
from scheduler.record.events import Correction
from scheduler.record.events_file import Recorded
from scheduler.record.state import State, state_of
from scheduler.shop.day_words import moment_text

MOST = 12


def state_text(desk: Desk) -> str:
    """The state for a person."""
    state = state_of(desk)
    head = f"{desk.shop.site.name}, {_when(desk, state.now)}: {len(desk.stands)} events stand, {_count(state)}"
    return "\n".join([head, *_under_way(desk, state), *_unreported(desk, state), *_shut(desk, state), *_stock(state)])


def _count(state: State) -> str:
    left = [unit for unit, steps in state.steps.items() if state.done.get(unit, 0) < steps]
    begun = sum(1 for unit in left if unit in state.done)
    return f"{len(state.steps) - len(left)} units handed back, {begun} in work, {len(left) - begun} to come"


def _under_way(desk: Desk, state: State) -> Iterator[str]:
    rows = [
        (
            d.work_id,
            d.bay_id or "yard",
            " ".join(d.people),
            _when(desk, d.since),
            _when(desk, d.until),
            "overdue" if d.overdue else "",
        )
        for d in state.under_way
    ]
    if rows:
        yield "\n" + text_table(("under way", "where", "people", "since", "until", "note"), rows)


def _unreported(desk: Desk, state: State) -> Iterator[str]:
    rows = [(u.work_id, _when(desk, u.planned_start)) for u in state.unreported]
    if rows:
        yield "\n" + text_table(("planned until now, not reported", "planned start"), rows[:MOST])
        yield (f"and {len(rows) - MOST} more; " if len(rows) > MOST else "") + "as-planned records what went as planned"


def _shut(desk: Desk, state: State) -> Iterator[str]:
    rows = [(c.which or "the site", _when(desk, c.closed_from), _when(desk, c.closed_until), c.reason) for c in state.closures]
    if rows:
        yield "\n" + text_table(("away or down", "from", "until", "why"), rows[:MOST])


def _stock(state: State) -> Iterator[str]:
    rows = [(lot, f"{packs} packs") for lot, packs in state.packs.items()]
    rows += [(pack, f"{ml:g} mL") for pack, ml in state.opened_ml.items()]
    if rows:
        yield "\n" + text_table(("stock", "left"), rows)


def list_text(desk: Desk) -> str:
    """Every event for a person, those that do not stand any more marked."""
    stand = {event.id for event in desk.stands}
    rows = [(e.id, _mark(e.id in stand, isinstance(e, Correction)), event_words(desk.shop, e), e.by) for e in desk.events]
    return text_table(("event", "state", "what", "by"), rows) if rows else "Nothing has been recorded yet."


def _mark(stands: bool, corrects: bool) -> str:
    return "stands" if stands else "correction" if corrects else "corrected"


def _when(desk: Desk, moment: datetime) -> str:
    return moment_text(desk.shop.local(moment))


def state_data(desk: Desk, recorded: Recorded) -> dict[str, object]:
    """The state for a machine; moments are ISO 8601 with the site's offset."""
    state = state_of(desk)

    def iso(moment: datetime) -> str:
        return desk.shop.local(moment).isoformat(timespec="minutes")

    return {
        "now": iso(state.now),
        "standing": [event.id for event in desk.stands],
        "bad_lines": [{"line": bad.line, "problem": bad.problem} for bad in recorded.bad_lines],
        "torn_bytes": len(recorded.torn),
        "under_way": [
            {
                "work_id": d.work_id,
                "bay_id": d.bay_id,
                "people": list(d.people),
                "since": iso(d.since),
                "until": iso(d.until),
                "overdue": d.overdue,
            }
            for d in state.under_way
        ],
        "unreported": [{"work_id": u.work_id, "planned_start": iso(u.planned_start)} for u in state.unreported],
        "steps_done": state.done,
        "steps": state.steps,
        "closures": [
            {"what": c.what.value, "which": c.which, "from": iso(c.closed_from), "until": iso(c.closed_until), "reason": c.reason}
            for c in state.closures
        ],
        "packs": state.packs,
        "opened_ml": state.opened_ml,
    }
