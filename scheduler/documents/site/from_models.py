"""Reference pages from the models of tables, settings and schedules."""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from scheduler.documents.site.markdown import cell, table
from scheduler.schedule.schedule import Schedule
from scheduler.shop.data_package import fields_of
from scheduler.shop.site import Site
from scheduler.shop.tables import SITE_FILE, TABLES, TYPICAL_YEAR, Table

_TYPES: Final = {
    "string": "text",
    "boolean": "yes or no",
    "integer": "whole number",
    "datetime": "date and time",
    "time": "time of day",
}


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


def settings_page() -> str:
    """The settings of a site, from their model."""
    head = (
        f"# Settings\n\nThe settings stand in `{SITE_FILE}`, a line `name = value` for each; in a workbook in the sheet `site` "
        "with the columns `setting` and `value`.\n"
    )
    return f"{head}\n{_columns(fields_of(Site)).replace('| column |', '| setting |', 1)}\n"


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
