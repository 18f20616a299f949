"""From a report as it was typed to an event, with what the plan knows filled in."""

from collections.abc import Callable, Mapping
from typing import Final

from pydantic import ValidationError

from scheduler.record import events as e
from scheduler.record import told_of_shop, told_of_steps
from scheduler.record.desk import Desk
from scheduler.record.explained import objections_of
from scheduler.record.options import OPTION_OF
from scheduler.record.reader import Fields, Made, Reader
from scheduler.record.report import EVERYWHERE, FORMS, Objection, ObjectionError, Report
from scheduler.shop.faults import choose

_MAKERS: Final[Mapping[str, Callable[[Reader, str], Made]]] = {
    "started": told_of_steps.started,
    "finished": told_of_steps.finished,
    "stopped": told_of_steps.stopped,
    "failed": told_of_steps.failed,
    "loaded": told_of_steps.loaded,
    "used": told_of_shop.used,
    "reading": told_of_shop.reading,
    "arrived": told_of_shop.arrived,
    "away": told_of_shop.away,
    "down": told_of_shop.down,
    "delivered": told_of_shop.delivered,
    "rejected": told_of_shop.rejected,
    "forecast": told_of_shop.forecast,
}


def event_of(desk: Desk, report: Report) -> e.Plain:
    """Make an event of a report.

    Raises
    ------
    ObjectionError
        With all that is wrong with the report by itself; whether it fits what has been recorded is another matter.
    """
    wrong = list(_form_faults(report))
    if wrong:
        raise ObjectionError(*wrong)
    reader = Reader(desk, report.said)
    model, fields = _MAKERS[report.what](reader, report.about)
    common = {"recorded_at": desk.now, "by": report.said.get("by", ""), "note": report.said.get("note", "")}
    try:
        return sealed_plain(model, common | fields)
    except ValidationError as error:
        raise ObjectionError(*objections_of(error, OPTION_OF)) from error


def sealed_plain(model: type[e.Plain], fields: Fields) -> e.Plain:
    """Event of a model with its id."""
    event = model.model_validate(fields)
    return event.model_copy(update={"id": e.fingerprint(event)})


def _form_faults(report: Report) -> list[Objection]:
    form = FORMS.get(report.what)
    if form is None:
        return [
            Objection("what happened", report.what, "not a word that is known here", choose(report.what, FORMS, "see --help"))
        ]
    wrong = []
    if form.about and not report.about:
        wrong.append(Objection("what it is about", None, f"{report.what} needs one", f"write {report.what} {form.about}"))
    if report.about and not form.about:
        wrong.append(Objection("what it is about", report.about, f"{report.what} is about nothing by itself", "leave it out"))
    allowed = (*form.needs, *form.takes, *EVERYWHERE)
    for name, value in report.said.items():
        if name not in allowed:
            cure = f"{report.what} takes {', '.join(f'--{word}' for word in allowed)}"
            if name == "at" and "from" in allowed:
                cure = "say with --from when it began"
            wrong.append(Objection(f"--{name}", value, f"does not go with {report.what}", cure))
    wrong += [Objection(f"--{n}", None, f"{report.what} needs it", f"add --{n}") for n in form.needs if n not in report.said]
    return wrong
