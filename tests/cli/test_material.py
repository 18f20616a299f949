"""coatrun material: statement, orders and reasons of a saved schedule, and the lists in the folder of a run."""

import csv
import io
import json
from pathlib import Path

from cli.conftest import Planned, Run
from scheduler.cli.exit_codes import ExitCode


def test_the_statement_balances_to_the_millilitre(run: Run, planned: Planned) -> None:
    """Standing and opened are sprayed, purged, in heels, left or lapsed; and no product is below its bound."""
    result = run("material", str(planned.report), "--json")
    assert result.exit_code == ExitCode.DONE
    data = json.loads(result.stdout)
    assert data["schema"] == "coatrun/material/1"
    for row in data["statement"]:
        gone = row["sprayed_ml"] + sum(row[name]["ml"] for name in ("purged", "heels", "left", "lapsed"))
        assert abs(row["standing"]["ml"] + row["opened"]["ml"] - gone) < 0.5
        assert row["spent_packs"] >= row["least_spent_packs"] - 1e-6
        above = row["opened"]["packs"] - row["least_packs"]
        assert sum(e["product_id"] == row["product_id"] for e in data["opened_beyond_bound"]) == max(0, above)


def test_every_reason_is_of_the_plan(run: Run, planned: Planned) -> None:
    """A line for a pack names one that the plan opens, with words behind it."""
    data = json.loads(run("material", str(planned.report), "--json").stdout)
    opened = {row["cartridge"] for row in data["traceability"]}
    for row in data["opened_beyond_bound"]:
        assert row["cartridge"] in opened
        assert len(row["because"]) > 20


def test_people_read_the_same_figures(run: Run, planned: Planned) -> None:
    """The text names every product with what it spends and what no plan goes below."""
    data = json.loads(run("material", str(planned.report), "--json").stdout)
    text = " ".join(run("material", str(planned.report)).stdout.split())
    for row in data["statement"]:
        assert f"{row['spent_packs']:.2f} packs spent, no plan spends less than {row['least_spent_packs']:.2f}" in text


def test_lists_lie_in_the_folder_of_the_run(planned: Planned) -> None:
    """Statement, purchases, reasons, loading list and record, as many rows as draws where each draw has one."""
    schedule = json.loads((planned.report / "schedule.json").read_text("utf-8"))
    draws = [draw for work in schedule["work"] for draw in work["draws"]]
    rows = {name: _rows(planned.report / f"{name}.csv") for name in ("statement", "purchases", "warmers", "cartridges")}
    assert (planned.report / "openings.csv").is_file()
    assert len(rows["cartridges"]) == len(draws)
    assert len(rows["warmers"]) == sum(draw["loaded_at"] is not None for draw in draws)
    assert {row["product_id"] for row in rows["purchases"]} <= {row["product_id"] for row in rows["statement"]}


def _rows(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(path.read_text("utf-8").removeprefix("\ufeff"))))
