"""A table that fits the width of the terminal: ruled on a terminal, in plain letters for files and other programs."""

import io
import sys
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest
from typing import Final

from scheduler.cli.talk import on_terminal, tame, width

GAP: Final = "  "
NARROWEST: Final = 8


def text_table(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Lay rows out under named columns; cells that are too wide go on in the next line.

    Parameters
    ----------
    columns : sequence of str
    rows : iterable of sequence of str
        As many cells in each row as there are columns.

    Returns
    -------
    str
        Lines without an end of line after the last one.
    """
    cells = [tuple(map(tame, row)) for row in rows]
    if on_terminal():
        return _ruled(columns, cells)
    widths = _widths([tuple(columns), *cells], width() - len(GAP) * (len(columns) - 1))
    rule = tuple("-" * w for w in widths)
    return "\n".join(line for row in (tuple(columns), rule, *cells) for line in _lines(row, widths))


def _ruled(columns: Sequence[str], cells: list[tuple[str, ...]]) -> str:
    """Lines of the library's table without its colours; wide letters count as the two columns that they take."""
    from rich import box
    from rich.console import Console
    from rich.table import Column, Table
    from rich.text import Text

    utf = (sys.stdout.encoding or "").lower().startswith("utf")
    table = Table(*(Column(Text(column)) for column in columns), box=box.SIMPLE_HEAD if utf else box.ASCII2, pad_edge=False)
    for row in cells:
        table.add_row(*map(Text, row))
    console = Console(file=io.StringIO(), width=width(), color_system=None, force_terminal=False)
    with console.capture() as captured:
        console.print(table)
    return "\n".join(line.rstrip() for line in captured.get().splitlines() if line.strip())


def _widths(rows: list[tuple[str, ...]], room: int) -> list[int]:
    """Widths that the cells ask for, the widest made narrower until all fit."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    while sum(widths) > room and max(widths) > NARROWEST:
        widths[widths.index(max(widths))] -= 1
    return widths


def _lines(row: Sequence[str], widths: Sequence[int]) -> Iterator[str]:
    wrapped = [textwrap.wrap(cell, w) or [""] for cell, w in zip(row, widths, strict=True)]
    for parts in zip_longest(*wrapped, fillvalue=""):
        yield GAP.join(part.ljust(w) for part, w in zip(parts, widths, strict=True)).rstrip()
