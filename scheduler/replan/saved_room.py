"""The room that a saved schedule leaves, kept beside it, so that a question is answered without reading the shop again.

Three lines: what the room was made from and a sum over the others, the room with the kinds of units, and the whole network for
answers with moves.
"""

import hashlib
import json
import os
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Final
from zlib import crc32
from zoneinfo import ZoneInfo

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.record.lock import EVENTS_FILE
from scheduler.replan.compact import CompactError, Document, written
from scheduler.replan.extend import UnitPart
from scheduler.replan.plain_grid import PlainGrid
from scheduler.replan.room import Room

ROOM_FILE: Final = "room.json"
VERSION: Final = 2
_LIKE: Final = "like "
_TABLE_ENDS: Final = (".csv", ".toml")


@dataclass(frozen=True)
class SavedRoom:
    """What is known without the shop.

    Attributes
    ----------
    kinds : Mapping of str to str
        For each unit the one whose part stands for it.
    names : Mapping of str to str
        What people call each unit.
    forecast_until : int
        First slot that does not rest on the forecast any more.
    document : Document
        With a fresh unit of each kind, made by :meth:`part`.
    whole : str
        Text of the network and the solution, read by :meth:`network`.
    """

    site: str
    grid: PlainGrid
    room: Room
    kinds: Mapping[str, str]
    names: Mapping[str, str]
    forecast_until: int
    document: Document
    whole: str

    def part(self, unit: str) -> UnitPart:
        """Return a fresh unit like one of the shop."""
        found: UnitPart = self.document[_LIKE + self.kinds[unit]]
        return found

    def network(self) -> tuple[Network, Placed]:
        """Return the whole network with the solution."""
        document = Document(self.whole)
        return document["net"], document["placed"]


def fingerprint(shop: Path, schedule: Path) -> str:
    """SHA-256 of the bytes of a shop's files, of a schedule and of what was recorded beside it."""
    digest = hashlib.sha256()
    tables = sorted(p for p in shop.iterdir() if p.suffix.lower() in _TABLE_ENDS) if shop.is_dir() else [shop]
    events = schedule.parent / EVENTS_FILE
    for path in (*tables, schedule, *([events] if events.is_file() else [])):
        digest.update(f"{path.name}\0".encode())
        digest.update(hashlib.sha256(path.read_bytes()).digest())
    return digest.hexdigest()


def save_room(contents: "Contents", mark: str, run: Path) -> SavedRoom:
    """Write a room into the folder of a run and return it; a reader sees the old file or the new one, never a part."""
    body, whole = contents.body(), written({"net": contents.net, "placed": contents.placed})
    head = json.dumps(_head(mark, body, whole))
    path, part = run / ROOM_FILE, run / f".{ROOM_FILE}.{os.getpid()}.part"
    part.write_text("\n".join([head, body, whole]) + "\n", encoding="utf-8")
    part.replace(path)
    return _room(body, whole)


def load_room(run: Path, mark: str) -> SavedRoom | None:
    """Read a room; None if there is none, or it was made from something else, or it is damaged."""
    try:
        head, body, whole, _ = (run / ROOM_FILE).read_text(encoding="utf-8").split("\n")
        return _room(body, whole) if json.loads(head) == _head(mark, body, whole) else None
    except (OSError, ValueError, KeyError, TypeError, CompactError):
        return None


def _head(mark: str, body: str, whole: str) -> dict[str, object]:
    """What a room was made from, and a sum over its text, so that parts which are read later are known to be sound."""
    return {"schema": f"coatrun/room/{VERSION}", "made_from": mark, "crc32": crc32(whole.encode(), crc32(body.encode()))}


@dataclass(frozen=True)
class Contents:
    """What a room is made of; see :class:`SavedRoom`, ``parts`` are fresh units by kind."""

    about: Mapping[str, object]
    grid: PlainGrid
    room: Room
    kinds: Mapping[str, str]
    parts: Mapping[str, UnitPart]
    net: Network
    placed: Placed

    def body(self) -> str:
        """Return all but the whole network as text."""
        grid = {"origin": self.grid.origin.isoformat(), "grid_min": self.grid.grid_min, "real": self.grid.real}
        about = {**self.about, "zone": str(self.grid.zone)}
        like = {_LIKE + kind: part for kind, part in self.parts.items()}
        return written({"about": about, "grid": grid, "room": self.room, "kinds": self.kinds, **like})


def _room(body: str, whole: str) -> SavedRoom:
    document = Document(body)
    about = document["about"]
    return SavedRoom(
        site=str(about["site"]),
        grid=_grid(document["grid"], str(about["zone"])),
        room=document["room"],
        kinds=document["kinds"],
        names=about["names"],
        forecast_until=int(about["forecast_until"]),
        document=document,
        whole=whole,
    )


def _grid(found: Mapping[str, Any], zone: str) -> PlainGrid:
    return PlainGrid(datetime.fromisoformat(found["origin"]), int(found["grid_min"]), tuple(found["real"]), ZoneInfo(zone))
