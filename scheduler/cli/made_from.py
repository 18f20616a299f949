"""Beside a schedule: marks of the rows that it was made from, to say what has changed since."""

import json
import os
from pathlib import Path
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from scheduler.shop.shop import Shop

FILE: Final = "made-from.json"
SCHEMA: Final = "coatrun/made-from/1"


def note_rows(shop: "Shop", run: Path) -> Path:
    """Leave the marks of a shop in the folder of a run."""
    from scheduler.shop.row_marks import row_marks

    path, part = run / FILE, run / f".{FILE}.{os.getpid()}.part"
    part.write_text(json.dumps({"schema": SCHEMA, "rows": row_marks(shop)}) + "\n", encoding="utf-8")
    part.replace(path)
    return path


def what_changed(shop: "Shop", run: Path) -> list[str]:
    """Lines that name the tables and rows that differ from those a run was made from; none if the run did not note them."""
    from scheduler.shop.row_marks import changed_since

    try:
        noted = json.loads((run / FILE).read_text(encoding="utf-8"))
        rows = {str(table): dict(keys) for table, keys in noted["rows"].items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return []
    return [change.text() for change in changed_since(rows, shop)]
