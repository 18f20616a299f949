"""Corrections: an event withdrawn, told anew, or with some of its fields put right."""

from collections.abc import Mapping
from typing import Any, Final

from pydantic import ValidationError

from scheduler.record.desk import Desk
from scheduler.record.event_of_report import event_of
from scheduler.record.events import Away, Correction, Down, Finished, Plain, fingerprint
from scheduler.record.explained import objections_of
from scheduler.record.options import FIELDS, OPTION_OF
from scheduler.record.report import Objection, ObjectionError, Report
from scheduler.record.standing import withdrawals
from scheduler.record.typed_moment import typed_moment
from scheduler.record.wrong_correction import no_such_event

_TIMES: Final = {"happened_at", "until", "started_at"}


def correction(desk: Desk, event_id: str, instead: Report | None, said: Mapping[str, str], *, withdraw: bool) -> Correction:
    """Make the correction of an event.

    Parameters
    ----------
    instead : Report or None
        The event told anew.
    said : mapping
        Otherwise the fields that were wrong, as typed; ``by`` and ``note`` are of the correction.

    Raises
    ------
    ObjectionError
        If nothing is corrected, or a field is not one of the event's.
    """
    told = {"by": said.get("by", ""), "note": said.get("note", ""), "recorded_at": desk.now, "happened_at": desk.now}
    changes = {name: text for name, text in said.items() if name not in {"by", "note"}}
    if withdraw:
        new = None
    elif instead is not None:
        new = event_of(desk, instead)
    elif changes:
        new = _changed(desk, event_id, changes)
    else:
        raise ObjectionError(
            Objection("correct", event_id, "nothing is put right", "add --withdraw, what it should be, or the event told anew")
        )
    made = Correction.model_validate({**told, "corrects": event_id, "instead": new})
    return made.model_copy(update={"id": fingerprint(made)})


def _changed(desk: Desk, event_id: str, changes: Mapping[str, str]) -> Plain:
    event = next((row for row in desk.stands if row.id == event_id), None)
    if event is None and event_id in withdrawals(desk.events):
        raise ObjectionError(Objection("event", event_id, "withdrew an event", "tell the whole event anew behind it"))
    if event is None:
        raise ObjectionError(no_such_event(desk, event_id))
    fields: dict[str, Any] = {}
    for name, text in changes.items():
        field = _field(event, name)
        if field not in type(event).model_fields:
            raise ObjectionError(Objection(f"--{name}", text, f"an event {event.kind} does not say that", "leave it out"))
        fields[field] = _moment(desk, name, text) if field in _TIMES else text.rstrip("% ")
    try:
        new = type(event).model_validate(event.model_dump() | {"recorded_at": desk.now} | fields)
    except ValidationError as error:
        raise ObjectionError(*objections_of(error, OPTION_OF)) from error
    return new.model_copy(update={"id": fingerprint(new)})


def _field(event: Plain, option: str) -> str:
    """Field that an option stands for: the start of a step, or of a time in which something is not there."""
    if option == "from":
        return "started_at" if isinstance(event, Finished) else "happened_at" if isinstance(event, Away | Down) else option
    return FIELDS.get(option, option)


def _moment(desk: Desk, name: str, text: str) -> object:
    try:
        return typed_moment(text, desk.now, desk.shop.site.tz)
    except ValueError as error:
        problem, _, cure = str(error).partition("; ")
        raise ObjectionError(Objection(f"--{name}", text, problem, cure)) from error
