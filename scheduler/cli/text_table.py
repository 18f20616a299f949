"""A table in plain letters that fits the width of the terminal."""

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest
from typing import Final

from scheduler.cli.talk import tame, width

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
    widths = _widths([tuple(columns), *cells], width() - len(GAP) * (len(columns) - 1))
    rule = tuple("-" * w for w in widths)
    return "\n".join(line for row in (tuple(columns), rule, *cells) for line in _lines(row, widths))


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
