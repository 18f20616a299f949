"""The room that a saved schedule leaves, kept beside it, so that a question is answered without reading the shop again.

Three lines: what the room was made from and a sum over the others, the room with the kinds of units, and the whole network for
answers with moves. Only what is asked for is made of them.
"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Final
from zlib import crc32
from zoneinfo import ZoneInfo

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.replan.compact import CompactError, Document, written
from scheduler.replan.extend import UnitPart
from scheduler.replan.plain_grid import PlainGrid
from scheduler.replan.room import Room
from scheduler.replan.told_since import ToldSince, told_since
from scheduler.shop.whole_file import put_file

ROOM_FILE: Final = "room.json"
VERSION: Final = 3
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
    told : ToldSince
        What has been recorded.
    document : Document
        With a fresh unit of each kind, made by :meth:`part`.
    whole : bytes
        Text of the network and the solution, read by :meth:`network`.
    """

    site: str
    grid: PlainGrid
    room: Room
    kinds: Mapping[str, str]
    names: Mapping[str, str]
    forecast_until: int
    told: ToldSince
    document: Document
    whole: bytes

    def part(self, unit: str) -> UnitPart:
        """Return a fresh unit like one of the shop."""
        found: UnitPart = self.document[_LIKE + self.kinds[unit]]
        return found

    def network(self) -> tuple[Network, Placed]:
        """Return the whole network with the solution."""
        document = Document(self.whole)
        return document["net"], document["placed"]


@dataclass(frozen=True)
class Basis:
    """What a room is made from.

    Attributes
    ----------
    mark : str
        SHA-256 of the bytes of the shop's files, of the schedule and of the events that count.
    plan_from : datetime
        When the schedule was planned.
    told : ToldSince
        What has been recorded beside it.
    """

    mark: str
    plan_from: datetime
    told: ToldSince


def basis_of(shop: Path, schedule: Path, plan_from: datetime) -> Basis:
    """Look at the files that the room of a schedule is made from."""
    digest = hashlib.sha256()
    tables = sorted(p for p in shop.iterdir() if p.suffix.lower() in _TABLE_ENDS) if shop.is_dir() else [shop]
    for path in (*tables, schedule):
        digest.update(f"{path.name}\0".encode())
        digest.update(hashlib.sha256(path.read_bytes()).digest())
    told = told_since(schedule.parent, plan_from)
    for line in told.counts:
        digest.update(hashlib.sha256(line).digest())
    return Basis(digest.hexdigest(), plan_from, told)


def save_room(contents: "Contents", basis: Basis, run: Path) -> SavedRoom:
    """Write a room into the folder of a run and return it; a reader sees the old file or the new one, never a part."""
    body, whole = contents.body().encode(), written({"net": contents.net, "placed": contents.placed}).encode()
    head = json.dumps(_head(basis, body, whole)).encode()
    put_file(run / ROOM_FILE, b"\n".join((head, body, whole, b"")))
    return _room(body, whole, basis.told)


def load_room(shop: Path, schedule: Path) -> SavedRoom | None:
    """Read the room of a schedule; None if there is none, or it was made from something else, or it is damaged."""
    try:
        head, body, whole, _ = (schedule.parent / ROOM_FILE).read_bytes().split(b"\n")
        basis = _basis_now(head, shop, schedule)
        return _room(body, whole, basis.told) if json.loads(head) == _head(basis, body, whole) else None
    except (FileNotFoundError, ValueError, KeyError, TypeError, CompactError):
        return None


def is_fresh(shop: Path, schedule: Path) -> bool:
    """Whether there is a room of a schedule that was made from what its files hold now."""
    try:
        with (schedule.parent / ROOM_FILE).open("rb") as file:
            head = file.readline()
        return bool(json.loads(head)["made_from"] == _basis_now(head, shop, schedule).mark)
    except (FileNotFoundError, ValueError, KeyError, TypeError):
        return False


def _basis_now(head: bytes, shop: Path, schedule: Path) -> Basis:
    return basis_of(shop, schedule, datetime.fromisoformat(json.loads(head)["plan_from"]))


def _head(basis: Basis, body: bytes, whole: bytes) -> dict[str, object]:
    """What a room was made from, and a sum over its text, so that parts which are read later are known to be sound."""
    about = {"schema": f"coatrun/room/{VERSION}", "made_from": basis.mark, "plan_from": basis.plan_from.isoformat()}
    return {**about, "crc32": crc32(whole, crc32(body))}


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


def _room(body: bytes, whole: bytes, told: ToldSince) -> SavedRoom:
    document = Document(body)
    about = document["about"]
    return SavedRoom(
        site=str(about["site"]),
        grid=_grid(document["grid"], str(about["zone"])),
        room=document["room"],
        kinds=document["kinds"],
        names=about["names"],
        forecast_until=int(about["forecast_until"]),
        told=told,
        document=document,
        whole=whole,
    )


def _grid(found: Mapping[str, Any], zone: str) -> PlainGrid:
    return PlainGrid(datetime.fromisoformat(found["origin"]), int(found["grid_min"]), tuple(found["real"]), ZoneInfo(zone))
