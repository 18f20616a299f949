"""The holds of a shop folder: one more, one less, and which there are."""

import csv
import io
from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Final

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.saved import SITE_FILE
from scheduler.shop.whole_file import put_file

FILE: Final = "holds.csv"
COLUMNS: Final = ("hold_id", "customer", "like_unit", "count", "arrives_at", "due_at", "most_units_away", "held_until")
Row = Mapping[str, str]


def write_hold(
    folder: Path, counts: Mapping[str, int], arrive: datetime, due_at: datetime, spare: int | None, until: date, customer: str
) -> str:
    """Add a hold to the table of a shop folder; its name.

    Raises
    ------
    Failed
        If the shop is no folder, or its table cannot be understood.
    """
    rows = read_holds(folder)
    taken = {row["hold_id"] for row in rows}
    name = next(f"hold-{n}" for n in range(1, len(taken) + 2) if f"hold-{n}" not in taken)
    fixed = {"hold_id": name, "customer": customer, "held_until": until.isoformat(), "most_units_away": str(spare or "")}
    times = {"arrives_at": arrive.isoformat(timespec="minutes"), "due_at": due_at.isoformat(timespec="minutes")}
    rows += [{**fixed, **times, "like_unit": unit, "count": str(count)} for unit, count in counts.items()]
    _write(folder, rows)
    return name


def release(folder: Path, name: str) -> None:
    """Take a hold out of the table.

    Raises
    ------
    Failed
        If there is no such hold.
    """
    rows = read_holds(folder)
    kept = [row for row in rows if row["hold_id"] != name]
    if len(kept) == len(rows):
        known = ", ".join(dict.fromkeys(row["hold_id"] for row in rows)) or "none"
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {folder}: there is no hold {name}; there are {known}")
    _write(folder, kept)


def read_holds(folder: Path) -> list[Row]:
    """Rows of the table as text; none if there is no table.

    Raises
    ------
    Failed
        If the shop is no folder, or the table has other columns.
    """
    if not folder.exists():
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {folder}: there is no such folder; give the shop folder")
    if not folder.is_dir():
        says = f"coatrun: {folder}: holds are kept in a shop folder; coatrun convert makes one of a workbook"
        raise Failed(ExitCode.BAD_INPUT, says)
    path = folder / FILE
    if not path.exists() and not (folder / SITE_FILE).exists():
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {folder}: this folder holds no shop; give the folder that holds site.toml")
    if not path.exists():
        return []
    try:
        rows = list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig"))))
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {path}: cannot be read ({error}); coatrun check names its faults") from error
    if any(set(row) != set(COLUMNS) or None in row.values() for row in rows):
        says = f"coatrun: {path}: its columns are not {', '.join(COLUMNS)}; coatrun check names its faults"
        raise Failed(ExitCode.BAD_INPUT, says)
    return list(rows)


def _write(folder: Path, rows: list[Row]) -> None:
    """Write the table whole or not at all."""
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, COLUMNS, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    put_file(folder / FILE, out.getvalue())
