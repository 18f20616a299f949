"""What is wrong with one cell and what cures it, in words of the people who type it."""

import re
from collections.abc import Mapping
from typing import Any, Final

from scheduler.shop.faults import choose

_COMMA: Final = re.compile(r"^\s*[+-]?\d+,\d+\s*$")
_UNIT: Final = re.compile(r"^\s*([+-]?\d+(?:\.\d+)?)\s*[^\d\s.,:;-]+\s*$")
_BOUNDS: Final = {
    "greater_than": ("gt", "must be above {:,g}"),
    "greater_than_equal": ("ge", "must be {:,g} or more"),
    "less_than": ("lt", "must be below {:,g}"),
    "less_than_equal": ("le", "must be {:,g} or less"),
}
_PLAIN: Final = {
    "missing": ("the cell is empty", "fill it in"),
    "string_too_short": ("the cell is empty", "fill it in"),
    "string_type": ("not a text", "put it in double quotes"),
    "finite_number": ("not a finite number", "write a number such as 12.5"),
    "int_parsing": ("not a whole number", "write a whole number such as 12"),
    "int_from_float": ("not a whole number", "write a whole number such as 12"),
    "int_type": ("not a whole number", "write a whole number such as 12"),
    "bool_parsing": ("neither yes nor no", "write yes or no"),
    "bool_type": ("neither yes nor no", "write yes or no"),
}
_ID_CURE: Final = "use letters, digits, _, . and - only, beginning with a letter or a digit"
_FILE_CURE: Final = "write the name of a CSV file that lies in the shop folder, such as typical_year.csv"


def explain(kind: str, context: Mapping[str, Any], value: str, message: str) -> tuple[str, str]:
    """Problem and cure of a value that a row refused.

    Parameters
    ----------
    kind, context, message : str, mapping, str
        Type, details and message of the validation error.
    value : str
        What stands in the cell.
    """
    if kind in _PLAIN:
        return _PLAIN[kind]
    if kind in _BOUNDS:
        name, problem = _BOUNDS[kind]
        return problem.format(float(context[name])), "correct the number"
    if kind in {"float_parsing", "float_type"}:
        return "not a number", _number_cure(value)
    return _text_error(kind, context, value, message)


def _text_error(kind: str, context: Mapping[str, Any], value: str, message: str) -> tuple[str, str]:
    match kind:
        case "enum":
            words = re.findall(r"'([^']*)'", str(context["expected"]))
            return "not a word that is known here", choose(value.strip(), words, "look at the list in datapackage.json")
        case "string_pattern_mismatch":
            is_file = ".csv" in str(context["pattern"]).replace("\\", "")
            return ("not a file name", _FILE_CURE) if is_file else ("not an id", _ID_CURE)
        case "string_too_long":
            return f"longer than {context['max_length']} characters", "shorten it"
        case "value_error":
            problem, _, cure = str(context["error"]).partition("; ")
            return problem, cure or "correct it"
    return message[:1].lower() + message[1:], "correct it"


def _number_cure(value: str) -> str:
    if _COMMA.match(value):
        return f"write {value.strip().replace(',', '.')}, with a point"
    with_unit = _UNIT.match(value)
    if with_unit:
        return f"write {with_unit[1]} alone, the column's name says the unit"
    return "write a number such as 12.5"
