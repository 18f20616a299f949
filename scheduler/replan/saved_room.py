"""The room that a saved schedule leaves, kept beside it, so that a question is answered without reading the shop again.

Three lines: what the room was made from, the room with the kinds of units, and the whole network for answers with moves.
"""

import hashlib
import json
import os
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Final
from zoneinfo import ZoneInfo

import numpy as np

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.activities.time_grid import TimeGrid
from scheduler.replan.compact import CompactError, read, written
from scheduler.replan.extend import UnitPart
from scheduler.replan.room import Room

ROOM_FILE: Final = "room.json"
VERSION: Final = 1
_TABLE_ENDS: Final = (".csv", ".toml")


@dataclass(frozen=True)
class SavedRoom:
    """What is known without the shop.

    Attributes
    ----------
    kinds : Mapping of str to str
        For each unit the one whose part stands for it.
    parts : Mapping of str to UnitPart
        A fresh unit of each kind.
    names : Mapping of str to str
        What people call each unit.
    forecast_until : int
        First slot that does not rest on the forecast any more.
    whole : str
        Text of the network and the solution, read by :meth:`network`.
    """

    site: str
    grid: TimeGrid
    room: Room
    kinds: Mapping[str, str]
    parts: Mapping[str, UnitPart]
    names: Mapping[str, str]
    forecast_until: int
    whole: str

    def network(self) -> tuple[Network, Placed]:
        """Return the whole network with the solution."""
        document = read(self.whole)
        return document["net"], document["placed"]


def fingerprint(shop: Path, schedule: Path) -> str:
    """SHA-256 of the bytes of a shop's files and of a schedule."""
    digest = hashlib.sha256()
    tables = sorted(p for p in shop.iterdir() if p.suffix.lower() in _TABLE_ENDS) if shop.is_dir() else [shop]
    for path in (*tables, schedule):
        digest.update(f"{path.name}\0".encode())
        digest.update(hashlib.sha256(path.read_bytes()).digest())
    return digest.hexdigest()


def save_room(saved: SavedRoom, net: Network, placed: Placed, mark: str, run: Path) -> Path:
    """Write a room into the folder of a run; a reader sees the old file or the new one, never a part."""
    grid = {"origin": saved.grid.origin.isoformat(), "grid_min": saved.grid.grid_min, "real": tuple(saved.grid.real.tolist())}
    about = {"site": saved.site, "zone": str(saved.grid.zone), "names": saved.names, "forecast_until": saved.forecast_until}
    body = {"about": about, "grid": grid, "room": saved.room, "kinds": saved.kinds, "parts": saved.parts}
    head = json.dumps({"schema": f"coatrun/room/{VERSION}", "made_from": mark})
    path, part = run / ROOM_FILE, run / f".{ROOM_FILE}.{os.getpid()}.part"
    part.write_text("\n".join([head, written(body), written({"net": net, "placed": placed})]) + "\n", encoding="utf-8")
    part.replace(path)
    return path


def load_room(run: Path, mark: str) -> SavedRoom | None:
    """Read a room; None if there is none, or it was made from something else, or it is damaged."""
    try:
        head, body, whole, _ = (run / ROOM_FILE).read_text(encoding="utf-8").split("\n")
        if json.loads(head) != {"schema": f"coatrun/room/{VERSION}", "made_from": mark}:
            return None
        found = read(body)
        about = found["about"]
        grid = _grid(found["grid"], str(about["zone"]))
        return SavedRoom(
            site=str(about["site"]),
            grid=grid,
            room=found["room"],
            kinds=found["kinds"],
            parts=found["parts"],
            names=about["names"],
            forecast_until=int(about["forecast_until"]),
            whole=whole,
        )
    except (OSError, ValueError, KeyError, TypeError, CompactError):
        return None


def _grid(found: Mapping[str, Any], zone: str) -> TimeGrid:
    real = np.array(found["real"], dtype=np.int64)
    return TimeGrid(datetime.fromisoformat(found["origin"]), int(found["grid_min"]), real, ZoneInfo(zone))
