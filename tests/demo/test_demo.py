"""The scenario in demo/: its tables come from the script, are valid, and hold the difficulties that its README names.

All figures here are the scenario's own (invented), but for the weather, which is real (data/weather).
"""

import csv
import subprocess
import sys
from collections import Counter
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from scheduler.activities.build import build_network
from scheduler.physics.weather_window import Limits, hours_allowed
from scheduler.pipeline import plan
from scheduler.search.bound import quick_bounds
from scheduler.search.settings import Settings
from scheduler.shop.forecast import bay_climate, hourly_weather
from scheduler.shop.methods import Step
from scheduler.shop.needs import needs_of
from scheduler.shop.product_sheet import Supply
from scheduler.shop.read import read_shop
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Substrate

ROOT = Path(__file__).parents[2]
COUNTY = ROOT / "demo" / "county"
PLACE_DAYS_IN_BOOTHS = 4 * 19
"""Places in the two booths times working days from 30 September to 25 October but for the holiday."""


@pytest.fixture(scope="module")
def shop() -> Shop:
    """The scenario, read and validated."""
    return read_shop(COUNTY)


def packs(shop: Shop, product_id: str) -> int:
    """Packs of a product that all film steps open if none shares one with another."""
    needs = (need for unit in shop.units for need in needs_of(shop, unit.unit_id))
    return sum(need.packs for need in needs if need.product is not None and need.product.product_id == product_id)


def working_hours_open(shop: Shop, bay_id: str, day: date, limits: Limits) -> int:
    """Hours from 6 to 16 o'clock of a day in which the climate of a bay keeps the limits."""
    weather = hourly_weather(shop)
    allowed = hours_allowed(bay_climate(shop, weather, shop.bay_by_id[bay_id]), limits)
    first = datetime(day.year, day.month, day.day, 6, tzinfo=shop.site.tz)
    start = round((first - weather.start_utc) / timedelta(hours=1))
    return int(allowed[start : start + 10].sum())


def test_the_committed_tables_are_those_of_the_script(tmp_path: Path) -> None:
    """Nobody edited a table by hand, and the script makes the same files each time."""
    subprocess.run([sys.executable, ROOT / "demo" / "build.py", "--out", tmp_path], check=True, cwd=tmp_path)
    built = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    assert built == {path.name: path.read_bytes() for path in COUNTY.iterdir()}


def test_the_scenario_has_the_size_that_its_readme_states(shop: Shop) -> None:
    """The arithmetic of demo/README.md rests on these counts."""
    assert (len(shop.units), len(shop.orders), len(shop.crew)) == (40, 12, 8)
    needs = [need for unit in shop.units for need in needs_of(shop, unit.unit_id)]
    films = Counter(need.step for need in needs if need.packs)
    assert films == {Step.PRIME: 23, Step.COAT: 118, Step.TEXTURE: 3, Step.TOUCH_UP: 1}
    assert (packs(shop, "lining"), packs(shop, "texture"), packs(shop, "bond-primer")) == (533, 3, 23)


def test_every_coat_fits_one_warmer(shop: Shop) -> None:
    """No film step takes more cartridges than one warmer of twelve slots holds."""
    needs = (need for unit in shop.units for need in needs_of(shop, unit.unit_id))
    sprayed = [need.packs for need in needs if need.product is not None and need.product.supply is Supply.CARTRIDGE]
    assert 1 <= min(sprayed) <= max(sprayed) <= 12


def test_all_states_of_a_surface_occur(shop: Shop) -> None:
    """Bare, sound, failing and blistered surfaces are there, so every route of a unit is shown."""
    assert {surface.substrate for surface in shop.surfaces} == set(Substrate)


def test_the_forecast_is_real_weather_of_the_first_fourteen_days(shop: Shop) -> None:
    """Each hour of the forecast equals the row of the source; after it the typical year is flagged."""
    with (ROOT / "data" / "weather" / "ewr_2013_hourly.csv").open(encoding="utf-8", newline="") as lines:
        source = {datetime.fromisoformat(row["at"]): row for row in csv.DictReader(lines)}
    assert len(shop.weather) == 14 * 24
    assert all(hour.air_temp_c == float(source[hour.at]["air_temp_c"]) for hour in shop.weather)
    weather = hourly_weather(shop)
    forecast_h = round((datetime(2013, 10, 14, tzinfo=shop.site.tz) - weather.start_utc) / timedelta(hours=1))
    assert not weather.typical[:forecast_h].any()
    assert weather.typical[forecast_h:].all()


def test_a_wet_week_shuts_the_apron_and_one_booth(shop: Shop) -> None:
    """On Monday 7 October only the booth with the dryer sprays and abrading waits for the afternoon; days before, all go on."""
    lining, abrade = shop.product_by_id["lining"], shop.method_of[Step.ABRADE]
    spray = Limits(
        rh_max_pct=lining.rh_max_pct, dew_margin_k=lining.dew_margin_k, wind_max_m_s=lining.wind_max_m_s, rain_max_mm=0.0
    )
    grind = Limits(rh_max_pct=abrade.rh_max_pct, rain_max_mm=abrade.rain_max_mm)
    wet, dry = date(2013, 10, 7), date(2013, 10, 2)
    assert max(working_hours_open(shop, bay, wet, grind) for bay in ("P1", "P2")) <= 3
    assert min(working_hours_open(shop, bay, dry, grind) for bay in ("P1", "P2")) == 10
    assert [working_hours_open(shop, bay, wet, spray) for bay in ("C1", "C2", "C3")] == [10, 1, 0]
    assert [working_hours_open(shop, bay, dry, spray) for bay in ("C1", "C2", "C3")] == [10, 10, 6]
    assert [working_hours_open(shop, "C3", date(2013, 10, day), spray) for day in (10, 11)] == [0, 0]


def test_one_customer_spares_three_of_six_units(shop: Shop) -> None:
    """Fenwold's six bodies cannot be in the shop at once."""
    assert shop.order_by_id["FE"].most_units_away == 3
    assert len(shop.units_of["FE"]) == 6


def test_the_first_lot_expires_in_the_second_week_and_is_needed(shop: Shop) -> None:
    """It must be used in part before 11 October: later lots alone are too few; the next comes before it expires."""
    first, *later = [lot for lot in shop.lots if lot.product_id == "lining"]
    assert first.expires_on == date(2013, 10, 11)
    assert date(2013, 10, 7) <= later[0].arrives_on < first.expires_on
    assert sum(lot.packs for lot in later) < packs(shop, "lining") < first.packs + sum(lot.packs for lot in later)


def test_one_order_is_late_however_it_is_planned(shop: Shop) -> None:
    """Askerby's blades come two days before they are due: alone in the shop they are two days late, weighted by two."""
    bounds = quick_bounds(build_network(shop).network)
    assert bounds.lateness == 4
    assert shop.order_by_id["AS"].weight == 2


def test_the_booths_are_busy_and_not_full(shop: Shop) -> None:
    """Attended coat work with the least waits for recoating and handling takes 40 to 85 % of the places in the booths."""
    hours = sum(least_stay_h(shop, unit.unit_id) for unit in shop.units)
    assert 0.4 <= hours / 8.5 / PLACE_DAYS_IN_BOOTHS <= 0.85


def least_stay_h(shop: Shop, unit_id: str) -> float:
    """Hours in a coat bay at 20 °C if nobody ever waits for anybody and the shop never closes; the handling wait is left out."""
    needs = [need for need in needs_of(shop, unit_id) if need.method is not None and need.method.stage == "coat"]
    films = [need.product.product_id for need in needs if need.product is not None]
    at_20 = {row.product_id: row.recoat_min_h for row in shop.product_times if row.temp_c == 20}
    return sum(need.slots(shop.site.grid_min) * shop.site.grid_min / 60 for need in needs) + sum(at_20[p] for p in films[:-1])


def test_the_checker_accepts_a_schedule_of_it(shop: Shop) -> None:
    """A schedule is found at once, and the checker, which knows nothing of the search, refuses none of it."""
    found = plan(shop, Settings(moves=1))
    assert found.report.ok
    assert {work.unit_id for work in found.schedule.work} == set(shop.unit_by_id)
    pinned = next(work for work in found.schedule.work if work.work_id == "QH-1/inspect")
    assert pinned.start == datetime(2013, 10, 3, 9, tzinfo=shop.site.tz)
