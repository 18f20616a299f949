"""Reference pages, made from what the program itself goes by."""

import ast
import re
import subprocess
import sys
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any, Final

from scheduler.documents.site.markdown import cell, table
from scheduler.rules import RULES
from scheduler.schedule.schedule import Schedule
from scheduler.shop.data_package import fields_of
from scheduler.shop.site import Site
from scheduler.shop.tables import SITE_FILE, TABLES, TYPICAL_YEAR, Table

ROOT: Final = Path(__file__).resolve().parents[3]
_TYPES: Final = {
    "string": "text",
    "boolean": "yes or no",
    "integer": "whole number",
    "datetime": "date and time",
    "time": "time of day",
}


_WHERE: Final = {"In the model": "model", "Checked": "check"}


def tables_page() -> str:
    """Every table with its columns, from the models of their rows."""
    head = (
        "# Tables\n\nA shop is a folder of CSV files, or one workbook with a sheet for each of these tables. Units stand in the "
        f"names of columns. Times are those of the site's clock unless they carry an offset. The settings of `{SITE_FILE}` are "
        "on [a page of their own](settings.md).\n"
    )
    return "\n".join([head, *(_table_section(t) for t in TABLES.values())])


def _table_section(of: Table) -> str:
    state = "must be there" if of.required else "may be left out"
    state += ", may have no rows" if of.may_be_empty else ""
    named = " Its file has the name that the setting `typical_year` gives." if of.name == TYPICAL_YEAR else ""
    refers = [f"`{r.column}` names a row of `{r.table}`." for r in of.refers]
    key = " and ".join(f"`{column}`" for column in of.key)
    words = f"One row is {of.says}. The table {state}.{named} Rows are told apart by {key}. {' '.join(refers)}".strip()
    return f"## {of.name}\n\n{words}\n\n{_columns(fields_of(of.row))}\n"


def _columns(fields: Iterator[Mapping[str, Any]]) -> str:
    return table(("column", "kind", "required", "meaning"), [_column(field) for field in fields])


def _column(field: Mapping[str, Any]) -> tuple[str, ...]:
    required = "yes" if field["constraints"]["required"] else ""
    return f"`{field['name']}`", _kind(field), required, cell(field.get("description", ""))


def _kind(field: Mapping[str, Any]) -> str:
    limits = field["constraints"]
    if "enum" in limits:
        return "one of " + ", ".join(f"`{word}`" for word in limits["enum"])
    bounds = [f"{sign} {limits[word]:g}" for word, sign in (("minimum", "from"), ("maximum", "to")) if word in limits]
    return " ".join([_TYPES.get(field["type"], field["type"]), *bounds])


def settings_page() -> str:
    """The settings of a site, from their model."""
    head = (
        f"# Settings\n\nThe settings stand in `{SITE_FILE}`, a line `name = value` for each; in a workbook in the sheet `site` "
        "with the columns `setting` and `value`.\n"
    )
    return f"{head}\n{_columns(fields_of(Site)).replace('| column |', '| setting |', 1)}\n"


def rules_page() -> str:
    """Every rule: what it demands, how the model holds it and how the checker tests it."""
    head = (
        "# Rules\n\nOne rule has one name in the model, the checker, the messages and the tests. The checker imports nothing "
        "that had a hand in making the schedule; it reads clock times and the shop's tables. What it refuses is not written "
        "out.\n"
    )
    return "\n".join([head, *(_rule_section(name) for name in RULES)])


def _rule_section(name: str) -> str:
    rule = RULES[name]
    files = {what: ROOT / "scheduler" / package / f"{name}.py" for what, package in _WHERE.items()}
    lines = [f"{what}: {cell(_says(path, name))}" for what, path in files.items() if path.is_file()]
    demands = f"**{rule.says[:1].upper()}{rule.says[1:]}.**"
    return "\n\n".join([f"## {name}", demands, *lines, f"A breach is told in: {rule.measured_in}.", ""])


def _says(path: Path, rule: str) -> str:
    """First sentence of a file, without the name of the rule before it."""
    text = (ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or "").partition("\n\n")[0]
    return " ".join(text.split()).removeprefix(f"Rule {rule}: ").removeprefix(f"{rule}: ")


def commands_page() -> str:
    """What each command says of itself when it is asked for help."""
    overview = _help()
    listed = overview.partition("Commands:")[2].partition("Exit codes:")[0]
    names = re.findall(r"^  ([a-z][a-z-]*) ", listed, re.MULTILINE)
    sections = [f"## coatrun {name}\n\n```text\n{_help(name)}\n```\n" for name in names]
    return "\n".join(["# Commands\n", f"```text\n{overview}\n```\n", *sections])


def _help(*names: str) -> str:
    """Help in a process of its own: this package lies below the command line and imports nothing of it."""
    args = [sys.executable, "-m", "scheduler.cli", *names, "--help"]
    done = subprocess.run(args, capture_output=True, text=True, check=True, cwd=ROOT, timeout=60)
    return done.stdout.rstrip()


def schedule_page() -> str:
    """The parts of a schedule file, from their models."""
    schema = Schedule.model_json_schema()
    version = schema["properties"]["schema_version"]["const"]
    head = (
        f"# Schedule file\n\n`schedule.json` of a run holds the whole schedule, version {version}. All moments are ISO 8601 with "
        "their offset. `schedule-schema.json` beside it is the same as JSON Schema. It may be changed by hand and tested again "
        "with `coatrun check DIR --schedule FILE`.\n"
    )
    parts = {"Schedule": schema, **{k: v for k, v in schema["$defs"].items() if "properties" in v}}
    return "\n".join([head, *(_part(name, spec) for name, spec in parts.items())])


def _part(name: str, spec: Mapping[str, Any]) -> str:
    rows = [(f"`{field}`", _shape(of), cell(of.get("description", ""))) for field, of in spec["properties"].items()]
    says = " ".join(spec.get("description", "").replace("``", "`").split())
    return f"## {name}\n\n{says}\n\n{table(('field', 'kind', 'meaning'), rows)}\n"


def _shape(of: Mapping[str, Any]) -> str:
    if "$ref" in of:
        return str(of["$ref"]).rpartition("/")[2]
    if "anyOf" in of:
        return " or ".join("nothing" if part.get("type") == "null" else _shape(part) for part in of["anyOf"])
    if of.get("type") == "array":
        return f"list of {_shape(of.get('items', {}))}"
    return str(of.get("format") or of.get("type") or of.get("const") or "any").replace("date-time", "moment")


def check_values_page() -> str:
    """Values from outside the project that the tests compare with, in the words of the tests."""
    head = (
        "# Check values and sources\n\nWhat the physics and the search are compared with in `tests/reference`: each line is a "
        "test that runs with every change. `from memory` marks a source that was not opened; `common practice, no source` a fact "
        "of the trade without a publication.\n"
    )
    return "\n".join([head, *(_reference(path) for path in sorted((ROOT / "tests" / "reference").glob("test_*.py")))])


def _reference(path: Path) -> str:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    tests = [node for node in tree.body if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")]
    rows = [(cell(_sentence(node.name)), cell(ast.get_docstring(node) or "")) for node in tests]
    title = path.stem.removeprefix("test_").replace("_", " ").capitalize()
    return f"## {title}\n\n{cell(ast.get_docstring(tree) or '')}\n\n{table(('what is compared', 'with what'), rows)}\n"


def _sentence(name: str) -> str:
    return name.removeprefix("test_").replace("_", " ")


PAGES: Final[Mapping[str, Callable[[], str]]] = {
    "reference/tables.md": tables_page,
    "reference/settings.md": settings_page,
    "reference/commands.md": commands_page,
    "reference/rules.md": rules_page,
    "reference/schedule.md": schedule_page,
    "background/check-values.md": check_values_page,
}
"""Generated pages by their place in the site."""
