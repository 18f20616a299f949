"""Break a shop folder in one place and read it."""

import csv
from pathlib import Path

from scheduler.shop.faults import BadInputError, Fault
from scheduler.shop.read import read_shop


def table_of(folder: Path, table: str) -> list[dict[str, str]]:
    """Rows of a table as text."""
    with (folder / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def put_table(folder: Path, table: str, rows: list[dict[str, str]]) -> None:
    """Overwrite a table that keeps its header."""
    path = folder / f"{table}.csv"
    header = path.read_text(encoding="utf-8").partition("\n")[0].strip().split(",")
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, header, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


def edit(folder: Path, table: str, row: int, **cells: str) -> None:
    """Overwrite cells of a row; rows are counted as faults count them, the header is 1."""
    rows = table_of(folder, table)
    rows[row - 2] |= cells
    put_table(folder, table, rows)


def edit_all(folder: Path, table: str, **cells: str) -> None:
    """Overwrite cells of every row."""
    put_table(folder, table, [row | cells for row in table_of(folder, table)])


def drop(folder: Path, table: str, *rows: int) -> None:
    """Delete rows."""
    put_table(folder, table, [row for i, row in enumerate(table_of(folder, table), 2) if i not in rows])


def add(folder: Path, table: str, **cells: str) -> None:
    """Add a row at the end; a cell that is not given is as in the first row, or empty where there is none."""
    rows = table_of(folder, table)
    put_table(folder, table, [*rows, (rows[0] if rows else {}) | cells])


def set_site(folder: Path, key: str, value: str) -> None:
    """Overwrite a setting with TOML text."""
    path = folder / "site.toml"
    lines = [f"{key} = {value}" if line.startswith(f"{key} =") else line for line in path.read_text("utf-8").splitlines()]
    path.write_text("\n".join(lines) + "\n", "utf-8")


def faults_of(folder: Path) -> tuple[Fault, ...]:
    """Faults with which a folder is refused; none for a valid one."""
    try:
        read_shop(folder)
    except BadInputError as error:
        return error.faults
    return ()


def only_fault(folder: Path) -> Fault:
    """Return the one fault of a folder."""
    faults = faults_of(folder)
    assert len(faults) == 1, "\n".join(fault.text() for fault in faults)
    return faults[0]


def place(fault: Fault) -> tuple[str, int | None, str | None]:
    """Where a fault is."""
    return fault.file, fault.row, fault.column
