"""Merged cells of a sheet: a table has one value a cell, and of a merged block only the first cell has one."""

import re
from collections.abc import Iterator
from typing import Any, Final

from scheduler.shop.faults import Fault

_BLOCK: Final = re.compile(rb'<(?:\w+:)?mergeCell\s[^>]*ref="([A-Z]{1,3})([0-9]{1,7}):([A-Z]{1,3})([0-9]{1,7})"')


def merged_faults(file: str, sheet: Any, columns: int, last_row: int) -> Iterator[Fault]:  # noqa: ANN401 - the library has no types
    """Yield a fault for each merged block that begins within the table.

    Parameters
    ----------
    file : str
        Name that the sheet's file would have in a folder.
    sheet : worksheet
        Opened for reading only: such a sheet does not tell its merged cells, its XML does.
    columns, last_row : int
        Size of the table.
    """
    from openpyxl.utils import column_index_from_string

    with sheet._get_source() as source:
        blocks = _BLOCK.findall(source.read())
    for left, top, right, bottom in blocks:
        if column_index_from_string(left.decode()) <= columns and int(top) <= last_row:
            block = f"{left.decode()}{int(top)}:{right.decode()}{int(bottom)}"
            yield Fault(file, int(top), left.decode(), block, "the cells are merged", "unmerge them and fill each of them in")
