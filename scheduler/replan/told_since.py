"""What has been recorded beside a schedule, as far as its room asks: read without the shop, in milliseconds."""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Final

from scheduler.record.lock import EVENTS_FILE

ANNOUNCED: Final = frozenset({"arrived", "away", "down"})
"""Kinds of events that count in a room whenever they happen."""
UPSETTING: Final = {
    "failed": "a step that failed",
    "stopped": "a step that was broken off",
    "delivered": "a delivery",
    "rejected": "a lot that was rejected",
    "forecast": "a new forecast",
}
"""Kinds of events that a room does not reckon with once its plan runs, in words: they wait for the next re-plan."""


@dataclass(frozen=True)
class ToldSince:
    """What was recorded.

    Attributes
    ----------
    counts : tuple of bytes
        Events that the room rests on: all from before the plan, of later ones what is announced. Damaged lines count too.
    until : datetime or None
        When the last thing happened that was no announcement.
    upsets : tuple of str
        What the room does not reckon with, in words.
    """

    counts: tuple[bytes, ...] = ()
    until: datetime | None = None
    upsets: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Line:
    raw: bytes
    kind: str
    at: datetime | None
    counts: bool


def told_since(run: Path, plan_from: datetime) -> ToldSince:
    """Read what was recorded in the folder of a run whose plan begins at a moment; a torn last line was never recorded."""
    path = run / EVENTS_FILE
    if not path.is_file():
        return ToldSince()
    *lines, _torn = path.read_bytes().split(b"\n")
    rows = list(_followed(lines, plan_from))
    moments = [row.at for row in rows if row.at is not None and row.kind not in ANNOUNCED]
    upsets = {row.kind for row in rows if not row.counts}
    says = tuple(text for kind, text in UPSETTING.items() if kind in upsets)
    return ToldSince(tuple(row.raw for row in rows if row.counts), max(moments, default=None), says)


def _followed(lines: Iterable[bytes], plan_from: datetime) -> Iterator[_Line]:
    """Tell of each line whether it counts; a correction counts where what it corrects did, or what it puts in its place."""
    counted: dict[str, bool] = {}
    for raw in lines:
        try:
            event: Any = json.loads(raw)
            said = event["instead"] or {} if event["kind"] == "correction" else event
            own = said and _counts(said, plan_from)
            counts = bool(own or (said is not event and counted.get(event["corrects"], True)))
            counted[event["id"]] = counts
            yield _Line(raw, said.get("kind", ""), datetime.fromisoformat(said["happened_at"]) if said else None, counts)
        except (ValueError, KeyError, TypeError, AttributeError):
            yield _Line(raw, "", None, counts=True)


def _counts(said: dict[str, str], plan_from: datetime) -> bool:
    return said["kind"] in ANNOUNCED or datetime.fromisoformat(said["happened_at"]) <= plan_from
