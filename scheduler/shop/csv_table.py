"""A table from a CSV file."""

import csv
import io
from pathlib import Path
from typing import Final

from scheduler.shop.faults import Fault
from scheduler.shop.raw_table import Numbered, RawTable, raw_table
from scheduler.shop.text_file import Unreadable, read_text

_SEPARATORS: Final = {";": "semicolons", "\t": "tabs", "|": "bars"}


def read_csv(path: Path) -> RawTable:
    """Read a CSV file: commas, a header, at most 100,000 rows; faults are in the result, none is raised."""
    try:
        text = read_text(path)
        wrong = _wrong_separator(path.name, text)
        return RawTable(faults=(wrong,)) if wrong is not None else raw_table(path.name, _numbered(path.name, text))
    except Unreadable as error:
        return RawTable(faults=(error.fault,))


def _wrong_separator(file: str, text: str) -> Fault | None:
    header = text.lstrip("\r\n").partition("\n")[0]
    for mark, name in _SEPARATORS.items():
        if header.count(mark) > header.count(","):
            return Fault(file, 1, None, None, f"the columns are separated by {name}", "save it with commas between the columns")
    if _in_one_cell(header):
        cure = "take away the double quotes around the rows, or split the column at its commas and save it again"
        return Fault(file, 1, None, None, "every row stands in double quotes, and so in one cell", cure)
    return None


def _in_one_cell(header: str) -> bool:
    """Whether a spreadsheet has put the whole header into one quoted cell."""
    cells = next(csv.reader([header.strip()]), [])
    return len(cells) == 1 and "," in cells[0]


def _numbered(file: str, text: str) -> Numbered:
    """Yield rows that are not blank with the line on which each starts: a quoted cell may run over several lines."""
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    last = 0
    try:
        for cells in reader:
            first, last = last + 1, reader.line_num
            if any(cell.strip() for cell in cells):
                yield first, cells
    except csv.Error as error:
        fault = Fault(file, last + 1, None, None, f"no valid CSV ({error})", "close every quote; write two for one in a text")
        raise Unreadable(fault) from error
