"""Rows of a sheet as text: a formula gives what it came to when the workbook was saved, a cell that cannot be read is a fault."""

import warnings
from collections.abc import Callable, Iterator
from typing import Any, Final

from scheduler.shop.faults import Fault
from scheduler.shop.raw_table import MOST_ROWS, Numbered
from scheduler.shop.text_file import Unreadable
from scheduler.shop.workbook.cell_value import LONGEST, value_text

MOST_COLUMNS: Final = 500
LAST_ROW: Final = 1_048_576
"""Last row that a sheet can have (ECMA-376); a file may name any, and all before it would be gone through."""
_FORMULA: Final = "f"
_ERROR: Final = "e"
_FORMATTED: Final = frozenset({"d", "n"})
Place = tuple[int, int]


class SheetRows:
    """Rows of a sheet.

    Parameters
    ----------
    file : str
        Name that the sheet's file would have in a folder, for faults.
    sheet : worksheet
        With its formulas.
    values : callable
        Gives the same sheet with what its formulas came to; called only if there are formulas.

    Attributes
    ----------
    faults : list of Fault
        Cells that cannot be read; their rows are left out.
    """

    def __init__(self, file: str, sheet: Any, values: Callable[[], Any]) -> None:  # noqa: ANN401 - the library has no types
        self.file = file
        self.sheet = sheet
        self.values = values
        self.faults: list[Fault] = []

    def numbered(self) -> Numbered:
        """Yield the header and the rows that are not blank, each as long as the header, with its number in the sheet.

        Raises
        ------
        Unreadable
            If the sheet is damaged, has more than 500 columns or rows that cannot be.
        """
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")  # dates outside the calendar come as errors of their cells
                rows = self._rows()
        except Unreadable:
            raise
        except Exception as error:
            what = " ".join(str(error).split())[:120] or type(error).__name__
            raise Unreadable(self._fault(None, None, None, f"the sheet is damaged ({what})", "write it anew")) from error
        yield from self._regular(rows)

    def _rows(self) -> list[tuple[int, list[str]]]:
        rows: list[tuple[int, list[str]]] = []
        formulas: dict[Place, str] = {}
        self.sheet.reset_dimensions()  # what a sheet says of its size need not be true
        for line, cells in enumerate(self.sheet.iter_rows(), start=1):
            if len(cells) > MOST_COLUMNS or line > LAST_ROW:
                self._too_large(line)
            texts = [_text(cell) for cell in cells]
            if any(text.strip() for text in texts):
                rows.append((line, texts))
                formulas |= {(line, i): texts[i] for i, cell in enumerate(cells) if cell.data_type in {_FORMULA, _ERROR}}
            if len(rows) > MOST_ROWS + 1:
                break
        if formulas:
            self._work_out(rows, formulas)
        return rows

    def _work_out(self, rows: list[tuple[int, list[str]]], formulas: dict[Place, str]) -> None:
        """Put what the formulas came to in their places; those that came to nothing, and errors, stay and are faults."""
        by_line = dict(rows)
        values = self.values()
        values.reset_dimensions()
        for line, cells in enumerate(values.iter_rows(), start=1):
            for i, cell in enumerate(cells if line in by_line else ()):
                if (line, i) in formulas and cell.value is not None and cell.data_type != _ERROR:
                    by_line[line][i] = _text(cell)
                    del formulas[line, i]
                elif (line, i) in formulas and cell.value is not None:
                    formulas[line, i] = by_line[line][i] = str(cell.value)
        self._unknown = formulas

    _unknown: dict[Place, str] = {}  # noqa: RUF012 - replaced, never changed

    def _regular(self, rows: list[tuple[int, list[str]]]) -> Numbered:
        header = _trimmed(rows[0][1]) if rows else []
        for line, texts in rows:
            faults = list(self._cell_faults(line, texts, header))
            self.faults += faults
            if not faults or texts is rows[0][1]:
                yield line, [*texts, *[""] * len(header)][: len(header)]

    def _cell_faults(self, line: int, texts: list[str], header: list[str]) -> Iterator[Fault]:
        for i, text in enumerate(texts):
            column = header[i].strip() if i < len(header) else _letters(i)
            if (line, i) in self._unknown:
                is_error = text.startswith("#")
                problem = "the formula of this cell has an error" if is_error else "the formula of this cell has no value yet"
                cure = "correct it, or write the value" if is_error else "save it in a spreadsheet program, or write the value"
                yield self._fault(line, column, text, problem, cure)
            elif i >= len(header) and text.strip():
                yield self._fault(line, column, text, "a value outside the table", "name its column, or delete the value")
            elif len(text) > LONGEST:
                yield self._fault(line, column, text, f"more than {LONGEST:,} letters in a cell", "shorten it")

    def _too_large(self, line: int) -> None:
        wide = line <= LAST_ROW
        problem = f"more than {MOST_COLUMNS} columns" if wide else f"more than {LAST_ROW:,} rows"
        cure = "delete what stands to the right of the table" if wide else "delete what stands below the table"
        raise Unreadable(self._fault(line, None, None, problem, cure))

    def _fault(self, line: int | None, column: str | None, value: str | None, problem: str, cure: str) -> Fault:
        return Fault(self.file, line, column, value, problem, cure)


def _text(cell: Any) -> str:  # noqa: ANN401 - the library has no types
    value = getattr(cell.value, "text", cell.value) if cell.data_type == _FORMULA else cell.value
    return value_text(value, cell.number_format if cell.data_type in _FORMATTED and value is not None else None)


def _trimmed(texts: list[str]) -> list[str]:
    while texts and not texts[-1].strip():
        texts = texts[:-1]
    return texts


def _letters(index: int) -> str:
    """Name of a column by its place, as a spreadsheet shows it."""
    from openpyxl.utils import get_column_letter

    return str(get_column_letter(index + 1))
