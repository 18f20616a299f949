"""Beside a schedule: marks of the rows that it was made from, to say what has changed since."""

import json
from pathlib import Path
from typing import TYPE_CHECKING, Final

from scheduler.shop.whole_file import put_file

if TYPE_CHECKING:
    from scheduler.shop.shop import Shop

FILE: Final = "made-from.json"
SCHEMA: Final = "coatrun/made-from/1"


def note_rows(shop: "Shop", run: Path) -> Path:
    """Leave the marks of a shop in the folder of a run."""
    from scheduler.shop.row_marks import row_marks

    return put_file(run / FILE, json.dumps({"schema": SCHEMA, "rows": row_marks(shop)}) + "\n")


def what_changed(shop: "Shop", run: Path) -> list[str]:
    """Lines that name the tables and rows that differ from those a run was made from; none if the run did not note them."""
    from scheduler.shop.row_marks import changed_since

    try:
        noted = json.loads((run / FILE).read_text(encoding="utf-8"))
        rows = {str(table): dict(keys) for table, keys in noted["rows"].items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return []
    return [change.text() for change in changed_since(rows, shop)]
