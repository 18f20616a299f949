"""Change a workbook as a person would, with a library that had no hand in writing it."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from openpyxl import load_workbook

from scheduler.shop.faults import BadInputError, Fault
from scheduler.shop.read import read_shop


def change(path: Path, how: Callable[[Any], object]) -> None:
    """Open, change, save."""
    book = load_workbook(path)
    how(book)
    book.save(path)


def put(path: Path, sheet: str, row: int, **cells: object) -> None:
    """Overwrite cells of a row by the names of their columns."""

    def write(book: Any) -> None:
        heads = {cell.value: cell.column for cell in book[sheet][1]}
        for column, value in cells.items():
            cell = book[sheet].cell(row, heads[column])
            cell.value = value
            if isinstance(value, str):
                cell.data_type = "s"  # text stays text: here nobody types a formula

    change(path, write)


def faults_of(path: Path) -> tuple[Fault, ...]:
    """Faults with which a workbook is refused; none for a valid one."""
    try:
        read_shop(path)
    except BadInputError as error:
        return error.faults
    return ()
