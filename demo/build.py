"""Build the shop folder of the scenario from the modules beside this one and the hourly weather in data/weather.

python demo/build.py [--out DIR]

Nothing is drawn at random: the same files come out every time.
"""

import argparse
import csv
import json
import sys
from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC, datetime
from pathlib import Path
from shutil import copyfile

import fleet
import material
import workshop

sys.path.insert(0, str(Path(__file__).parents[1]))  # runs from a clone that nobody has installed

from scheduler.shop.data_package import data_package
from scheduler.shop.tables import PACKAGE_FILE, SITE_FILE, TABLES

FOLDER = Path(__file__).parent / "county"
WEATHER = Path(__file__).parents[1] / "data" / "weather"
FORECAST = (datetime(2013, 9, 30, 4, tzinfo=UTC), datetime(2013, 10, 14, 4, tzinfo=UTC))
"""First hour of the forecast and the hour after its last: fourteen local days."""

SITE = """\
# Quernholt County and its shop are invented; the weather is real, see README.md of the folder above.
name = "Winter-service shop, Quernholt County"
zone = "America/New_York"
latitude_deg = 40.69
longitude_deg = -74.17
altitude_m = 5
plan_from = 2013-09-30T07:00:00
plan_until = 2013-11-11T07:00:00
grid_min = 15
reads = "si"  # or us
yard_places = 18
store_temp_c = 15
spray_load_min = 2
overtime_cost_per_h = 46
typical_year = "typical_year.csv"
"""
SITE_NAME = "Winter-service shop, Quernholt County"
TYPICAL_YEAR = "typical_year.csv"


def build(out: Path) -> None:
    """Write every table, the settings and their description into ``out``."""
    out.mkdir(parents=True, exist_ok=True)
    for name, rows in tables().items():
        write_table(out / TABLES[name].file, list(TABLES[name].row.model_fields), rows)
    copyfile(WEATHER / "typical_year_723170.csv", out / TYPICAL_YEAR)
    write_text(out / SITE_FILE, SITE)
    write_text(out / PACKAGE_FILE, json.dumps(data_package(SITE_NAME, TYPICAL_YEAR), indent=2, ensure_ascii=False) + "\n")


def tables() -> dict[str, Iterable[Mapping[str, object]]]:
    """Rows of every table of the scenario."""
    return {
        "orders": fleet.orders(),
        "units": fleet.units(),
        "surfaces": fleet.surfaces(),
        "coating_systems": material.coating_systems(),
        "products": material.products(),
        "product_times": material.product_times(),
        "lots": material.lots(),
        "opened": material.opened(),
        "bays": workshop.BAYS,
        "crew": workshop.crew(),
        "equipment": workshop.EQUIPMENT,
        "methods": workshop.METHODS,
        "shifts": workshop.SHIFTS,
        "closures": workshop.closures(),
        "weather": forecast(),
        "pinned": workshop.PINNED,
        "done": (),
        "warming": (),
        "rework": (),
        "holds": (),
    }


def forecast() -> Iterator[dict[str, str]]:
    """Give the hours that the forecast covers."""
    with (WEATHER / "ewr_2013_hourly.csv").open(encoding="utf-8", newline="") as lines:
        for row in csv.DictReader(lines):
            if FORECAST[0] <= datetime.fromisoformat(row["at"]) < FORECAST[1]:
                yield row


def write_table(path: Path, columns: list[str], rows: Iterable[Mapping[str, object]]) -> None:
    """Write rows as CSV with plain line ends; a cell that a row does not have stays empty."""
    with path.open("w", encoding="utf-8", newline="") as lines:
        writer = csv.DictWriter(lines, columns, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


def write_text(path: Path, text: str) -> None:
    """Write a text with plain line ends."""
    path.write_text(text, encoding="utf-8", newline="\n")


def main() -> None:
    """Read the command line."""
    parser = argparse.ArgumentParser(description="Build the shop folder of the scenario.")
    parser.add_argument("--out", type=Path, default=FOLDER, metavar="DIR")
    build(parser.parse_args().out)


if __name__ == "__main__":
    main()
