"""Reports from a CSV file: a row is a report, its columns are the options of the command."""

from pathlib import Path

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.record_options import SAID
from scheduler.record.report import EVERYWHERE, Report
from scheduler.shop.csv_table import read_csv
from scheduler.shop.faults import BadInputError, Fault, choose


def reports_of(path: Path, words: tuple[str, ...]) -> list[tuple[int, Report]]:
    """Read the reports of a file with their lines.

    Raises
    ------
    BadInputError
        With every fault of the file's form.
    """
    if words:
        raise Failed(ExitCode.BAD_INPUT, "coatrun: --from-file says what happened; leave the words away")
    table = read_csv(path)
    known = ("what", "about", *(name for name, _, _ in SAID), *EVERYWHERE)
    faults = list(table.faults)
    for column in table.columns:
        if column not in known:
            faults.append(Fault(path.name, 1, column, None, "unknown column", choose(column, known, "delete the column")))
    if table.columns and "what" not in table.columns:
        faults.append(Fault(path.name, 1, "what", None, "the column is missing", "add it: started, finished, used ..."))
    faults += [
        Fault(path.name, r.line, "what", None, "the cell is empty", "say what happened")
        for r in table.rows
        if "what" not in r.cells
    ]
    if faults:
        raise BadInputError(faults)
    return [(row.line, _report({name: cell.strip() for name, cell in row.cells.items()})) for row in table.rows]


def _report(cells: dict[str, str]) -> Report:
    return Report(cells.pop("what"), cells.pop("about", ""), cells)
