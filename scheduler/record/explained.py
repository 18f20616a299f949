"""What the models of events find wrong, as objections that a person understands."""

from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from scheduler.record.report import Objection
from scheduler.shop.cell_errors import explain


def objections_of(error: ValidationError, options: Mapping[str, str]) -> tuple[Objection, ...]:
    """Objections to what was typed.

    Parameters
    ----------
    error : ValidationError
        Of an event or of a part of one.
    options : mapping of str to str
        Field to the option that says it; a field that is not in it is named by itself.
    """
    return tuple(_objection(row, options) for row in error.errors(include_url=False))


def _objection(row: Any, options: Mapping[str, str]) -> Objection:  # noqa: ANN401 - the library's own record
    place, value = ".".join(str(part) for part in row["loc"]) or "report", str(row.get("input", ""))
    problem, cure = explain(row["type"], row.get("ctx", {}), value, row["msg"])
    option = options.get(str(row["loc"][0])) if row["loc"] else None
    return Objection(f"--{option}" if option is not None else place, value, problem, cure)
