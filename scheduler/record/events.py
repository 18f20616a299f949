"""What can be recorded: one frozen model a kind of event, told apart by ``kind``.

An event says when it happened, when it was recorded and by whom, and never changes. Its id is a fingerprint of what it says
has happened, so that the same report sent twice is the same event, whoever sends it and when.
"""

import hashlib
import json
from datetime import datetime
from typing import Annotated, Final, Literal

from pydantic import Field, TypeAdapter

from scheduler.record.event import Event
from scheduler.record.events_of_shop import Arrived, Away, Delivered, Down, Fate, Forecast, Reading, Rejected, Used
from scheduler.record.events_of_steps import Doing, Failed, Finished, Loaded, OfStep, Started, Stopped, Taken

__all__ = [
    "ADAPTER",
    "KINDS",
    "AnyEvent",
    "Arrived",
    "Away",
    "Correction",
    "Delivered",
    "Doing",
    "Down",
    "Event",
    "Failed",
    "Fate",
    "Finished",
    "Forecast",
    "Loaded",
    "OfStep",
    "Plain",
    "Reading",
    "Rejected",
    "Started",
    "Stopped",
    "Taken",
    "Used",
    "fingerprint",
    "sealed",
]
_NOT_SAID: Final = {"id", "recorded_at", "by", "note", "taken", "planned_end", "planned_ml"}
"""Who told it and when, and what was filled in from the plan."""
_MAY_LACK: Final = {"done_pct", "ml"}
"""What says nothing where it is empty, also in files that were written before it could be said."""
Plain = Started | Finished | Stopped | Failed | Loaded | Used | Reading | Arrived | Away | Down | Delivered | Rejected | Forecast


class Correction(Event):
    """An earlier event was wrong: ``instead`` takes its place, or nothing does."""

    kind: Literal["correction"] = "correction"
    corrects: str = Field(min_length=1, description="id of the event that was wrong, or of its latest correction")
    instead: Annotated[Plain, Field(discriminator="kind")] | None = None


AnyEvent = Plain | Correction
ADAPTER: Final[TypeAdapter[AnyEvent]] = TypeAdapter(Annotated[AnyEvent, Field(discriminator="kind")])
KINDS: Final = tuple(model.model_fields["kind"].default for model in (*Plain.__args__, Correction))


def fingerprint(event: AnyEvent) -> str:
    """Eight hexadecimal digits of what an event says has happened, whoever recorded it and when.

    Moments count as instants, whatever offset they are written with.
    """
    said = event.model_dump(mode="json", exclude=_NOT_SAID)
    said = {name: value for name, value in said.items() if value is not None or name not in _MAY_LACK}
    said |= {name: value.timestamp() for name in said if isinstance(value := getattr(event, name), datetime)}
    if isinstance(event, Correction) and event.instead is not None:
        said["instead"] = fingerprint(event.instead)
    text = json.dumps(said, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:8]


def sealed(event: AnyEvent) -> AnyEvent:
    """Return the event with its id."""
    return event.model_copy(update={"id": fingerprint(event)})
