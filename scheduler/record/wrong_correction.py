"""Corrections of what is not there, or does not stand any more."""

from scheduler.record.desk import Desk
from scheduler.record.events import Correction
from scheduler.record.report import Objection
from scheduler.record.standing import withdrawals


def wrong_correction(desk: Desk, event: Correction) -> Objection | None:
    """Why an event cannot be corrected."""
    withdrawn = withdrawals(desk.events)
    if event.corrects in withdrawn and event.instead is None:
        return Objection("event", event.corrects, "withdrew an event itself", "tell the event anew behind it")
    if event.corrects in {row.id for row in desk.stands} | withdrawn.keys():
        return None
    return no_such_event(desk, event.corrects)


def no_such_event(desk: Desk, event_id: str) -> Objection:
    """What is wrong with the id of an event that does not stand: another has taken its place, or there never was one."""
    later = next((row.id for row in desk.events if isinstance(row, Correction) and row.corrects == event_id), None)
    if later is not None:
        return Objection("event", event_id, f"has been corrected already, by {later}", f"correct {later}")
    return Objection("event", event_id, "there is no such event", "see --list for the ids")
