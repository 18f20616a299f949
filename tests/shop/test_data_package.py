"""The description of the tables says what the models demand."""

import json
import re
from pathlib import Path

from scheduler.shop.data_package import data_package
from scheduler.shop.shop import Shop
from scheduler.shop.tables import TABLES
from scheduler.shop.write import write_shop

TYPES = {"string", "number", "integer", "boolean", "date", "time", "datetime"}
CONSTRAINTS = {"required", "minimum", "maximum", "minLength", "maxLength", "pattern", "enum"}


def test_every_table_and_column_is_described_and_nothing_else() -> None:
    """Resources are the tables, fields the columns of their models, in their order; the typical year only where there is one."""
    package = data_package("Süd Werft, Halle 2", "year.csv")
    assert package["name"] == "sud-werft-halle-2"
    assert [r["name"] for r in package["resources"]] == list(TABLES)
    for resource in package["resources"]:
        fields = resource["schema"]["fields"]
        model = TABLES[resource["name"]].row
        assert [f["name"] for f in fields] == list(model.model_fields)
        assert [f["constraints"]["required"] for f in fields] == [i.is_required() for i in model.model_fields.values()]
    assert "typical_year" not in [r["name"] for r in data_package("x")["resources"]]


def test_the_form_is_that_of_table_schema() -> None:
    """Types and constraints are words of Table Schema v1 (from memory), names of the package are lower case."""
    package = data_package("道路課")
    assert re.fullmatch(r"[-a-z0-9._/]+", package["name"])
    for resource in package["resources"]:
        for field in resource["schema"]["fields"]:
            assert field["type"] in TYPES
            assert set(field["constraints"]) <= CONSTRAINTS
            re.compile(field["constraints"].get("pattern", ""))


def test_keys_point_to_fields_that_exist() -> None:
    """Primary keys are required columns; foreign keys name a column here and one there."""
    resources = {r["name"]: r["schema"] for r in data_package("x", "year.csv")["resources"]}
    columns = {name: {f["name"]: f for f in schema["fields"]} for name, schema in resources.items()}
    for name, schema in resources.items():
        assert all(columns[name][key]["constraints"]["required"] for key in schema.get("primaryKey", []))
        for key in schema.get("foreignKeys", []):
            assert set(key["fields"]) <= set(columns[name])
            assert set(key["reference"]["fields"]) <= set(columns[key["reference"]["resource"]])
    assert "primaryKey" not in resources["closures"]


def test_bounds_words_and_defaults_are_said() -> None:
    """A few columns in full."""
    fields = {(r["name"], f["name"]): f for r in data_package("x")["resources"] for f in r["schema"]["fields"]}
    assert fields["surfaces", "failing_pct"]["constraints"] == {"required": False, "minimum": 0, "maximum": 100}
    assert fields["surfaces", "substrate"]["constraints"]["enum"] == ["bare", "sound", "failing", "blistered"]
    assert fields["units", "mass_kg"]["description"] == "above 0"
    assert "ISO 8601" in fields["methods", "dry_min"]["description"]
    assert "ISO 8601" not in fields["methods", "m2_per_h"].get("description", "")
    assert fields["products", "rh_max_pct"]["description"] == "if empty: 85; none for no limit"
    assert fields["bays", "outdoor"]["description"] == "if empty: no"


def test_the_written_files_have_the_columns_that_the_package_names(template: Shop, tmp_path: Path) -> None:
    """Every resource is there under its path, with the fields as its header."""
    write_shop(template, tmp_path / "shop")
    package = json.loads((tmp_path / "shop" / "datapackage.json").read_text("utf-8"))
    for resource in package["resources"]:
        header = (tmp_path / "shop" / resource["path"]).read_text("utf-8").partition("\n")[0]
        assert header.split(",") == [f["name"] for f in resource["schema"]["fields"]]
