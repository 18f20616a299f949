"""The tables of a shop folder described as a Frictionless Data Package, generated from the models of their rows.

Source of the form: Data Package and Table Schema, https://specs.frictionlessdata.io (v1).
"""

import re
import unicodedata
from collections.abc import Iterator
from typing import Any, Final

from scheduler.shop.fields import LARGEST, Row
from scheduler.shop.tables import TABLES, TYPICAL_YEAR, Table
from scheduler.shop.typed_rows import NONE_WORD, clearable

Json = dict[str, Any]

_TYPES: Final = {"number": "number", "integer": "integer", "boolean": "boolean", "string": "string", "array": "string"}
_FORMATS: Final = {"date-time": "datetime", "date": "date", "time": "time"}
_BOUNDS: Final = ("minimum", "maximum", "minLength", "maxLength", "enum")
_STRICT: Final = {"exclusiveMinimum": "above", "exclusiveMaximum": "below"}


def data_package(shop_name: str, typical_year: str = "") -> Json:
    """Describe the tables of a shop folder.

    Parameters
    ----------
    shop_name : str
        Name of the site, the title of the package.
    typical_year : str
        File of the typical year; empty for none.

    Returns
    -------
    dict
        Content of ``datapackage.json``.
    """
    tables = [t for t in TABLES.values() if t.name != TYPICAL_YEAR or typical_year]
    return {
        "name": _slug(shop_name),
        "title": shop_name,
        "profile": "tabular-data-package",
        "description": "What the planner knows of a shop. Settings are in site.toml.",
        "resources": [_resource(t, typical_year if t.name == TYPICAL_YEAR else t.file) for t in tables],
    }


def _slug(name: str) -> str:
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or "shop"


def _resource(table: Table, path: str) -> Json:
    return {
        "name": table.name,
        "title": f"One row is {table.says}",
        "path": path,
        "profile": "tabular-data-resource",
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "schema": _schema(table),
    }


def _schema(table: Table) -> Json:
    schema: Json = {"fields": list(fields_of(table.row)), "missingValues": [""]}
    if all(table.row.model_fields[column].is_required() for column in table.key):  # a primary key has no empty cells
        schema["primaryKey"] = list(table.key)
    keys = [{"fields": [r.column], "reference": {"resource": r.table, "fields": [r.there]}} for r in table.refers]
    return schema | ({"foreignKeys": keys} if keys else {})


def fields_of(model: type[Row]) -> Iterator[Json]:
    """Yield the columns of a row in the words of a Table Schema: name, type, meaning, constraints."""
    schema = model.model_json_schema()
    shapes: Json = schema.get("$defs", {})
    for name, spec in schema["properties"].items():
        flat = _resolved(spec, shapes) | {"clearable": name in clearable(model)}
        yield _field(name, flat, required=name in schema.get("required", ()))


def _resolved(spec: Json, shapes: Json) -> Json:
    """Follow references and drop the alternative of an empty cell."""
    for part in spec.get("anyOf", ()):
        if part.get("type") != "null":
            return _resolved(part, shapes) | {k: v for k, v in spec.items() if k != "anyOf"}
    name = str(spec.get("$ref", "")).rpartition("/")[2]
    shape = {k: v for k, v in shapes[name].items() if k != "description"} if name else {}
    return shape | {k: v for k, v in spec.items() if k != "$ref"}


def _field(name: str, spec: Json, *, required: bool) -> Json:
    kind = _FORMATS.get(spec.get("format", ""), _TYPES[spec["type"]])
    field: Json = {"name": name, "type": kind}
    if kind in {"datetime", "time"}:
        field["format"] = "any"
    if kind == "boolean":
        field |= {"trueValues": ["yes", "true", "1"], "falseValues": ["no", "false", "0"]}
    notes = list(_notes(spec))
    if notes:
        field["description"] = "; ".join(notes)
    constraints: Json = {word: spec[word] for word in _BOUNDS if word in spec and not _no_bound(spec, word)}
    if "pattern" in spec:
        constraints["pattern"] = spec["pattern"].removeprefix("^").removesuffix("$")
    return field | {"constraints": {"required": required, **constraints}}


def _no_bound(spec: Json, word: str) -> bool:
    """Whether a bound is there only to keep arithmetic finite."""
    return word in {"minimum", "maximum"} and abs(spec[word]) >= LARGEST


def _notes(spec: Json) -> Iterator[str]:
    """What the form has no word for: descriptions, strict bounds, lists of words, durations, defaults."""
    if "description" in spec:
        yield spec["description"]
    for word, says in _STRICT.items():
        if word in spec:
            yield f"{says} {spec[word]:g}"
    if spec["type"] == "array":
        yield "words separated by spaces"
    if spec.get("duration"):
        yield "or an ISO 8601 duration such as PT2H30M"
    default = spec.get("default")
    if default not in (None, "", []):
        yield f"if empty: {_plain(default)}"
    if spec["clearable"]:
        yield f"{NONE_WORD} for no limit"


def _plain(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, float) else str(value)
