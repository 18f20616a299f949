from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from scheduler.shop.forecast import bay_climate, calendar_hour, forecast_until, hourly_weather, standard_offset
from scheduler.shop.forecast_rows import TypicalHour, WeatherHour
from scheduler.shop.shop import Shop

START = datetime(2026, 6, 15, 11, tzinfo=UTC)  # plan_from of the template, 07:00 in New York
HOUR = timedelta(hours=1)


def typical(month: int, day: int, hour: int) -> TypicalHour:
    """Air temperature tells month and hour apart: 10 for each month past May, 0.1 an hour."""
    return TypicalHour(month=month, day=day, hour=hour, air_temp_c=10 * (month - 5) + hour / 10, dew_point_c=1)


JUNE_AND_JULY = tuple(typical(m, d, h) for m in (6, 7) for d in range(1, 31 + (m == 7)) for h in range(24))


def with_typical(template: Shop, weather: tuple[WeatherHour, ...]) -> Shop:
    """Return the template with this forecast and two typical months."""
    site = template.site.model_copy(update={"typical_year": "typical_year.csv"})
    return template.model_copy(update={"site": site, "weather": weather, "typical_year": JUNE_AND_JULY})


def test_the_forecast_alone_runs_from_the_hour_of_plan_from_to_its_own_end(template: Shop) -> None:
    """Hours before the plan are left out; nothing is invented past the end."""
    weather = hourly_weather(template)
    rows = {row.at: row for row in template.weather}
    assert weather.start_utc == START
    assert weather.end_utc == max(rows) + HOUR
    assert weather.end_utc == forecast_until(template)
    assert not weather.typical.any()
    assert weather.air_temp_c[5] == rows[START + 5 * HOUR].air_temp_c
    assert weather.rain_mm.sum() == pytest.approx(sum(row.rain_mm for at, row in rows.items() if at >= START))


def test_past_the_forecast_the_typical_year_carries_on_for_14_days_after_the_plan(template: Shop) -> None:
    """The first typical hour is read at local standard time, UTC-5 in New York also in summer, and is flagged."""
    made = with_typical(template, template.weather[:49])  # ends 11:00 UTC on 17 June
    weather = hourly_weather(made)
    assert forecast_until(made) == datetime(2026, 6, 17, 11, tzinfo=UTC)
    assert weather.typical.tolist() == [False] * 48 + [True] * (len(weather) - 48)
    assert weather.air_temp_c[48] == pytest.approx(10.6)  # June, 11:00 UTC is hour 6
    assert made.site.plan_until + timedelta(days=14) - HOUR < weather.end_utc <= made.site.plan_until + timedelta(days=14)


def test_without_a_forecast_every_hour_is_typical(template: Shop) -> None:
    """A shop may plan on a typical year alone, and says so in every hour."""
    made = with_typical(template, ())
    assert hourly_weather(made).typical.all()
    assert forecast_until(made) is None


def test_a_missing_hour_is_refused_even_if_the_typical_year_has_it(template: Shop) -> None:
    """A hole in a forecast is not filled silently."""
    rows = template.weather
    with pytest.raises(ValueError, match="no weather for the hour from 2026-06-15 20:00 UTC"):
        hourly_weather(with_typical(template, rows[:10] + rows[11:]))
    with pytest.raises(ValueError, match="neither a forecast nor a typical year"):
        hourly_weather(template.model_copy(update={"weather": ()}))


def test_humidity_stands_in_where_the_dew_point_is_empty(template: Shop) -> None:
    """20 °C and 50 % have their dew point at 9.27 °C: psychrolib 2.5.0 (ASHRAE), 9.27239, tolerance 0.05 K."""
    row = WeatherHour(at=START, air_temp_c=20, rh_pct=50)
    assert hourly_weather(template.model_copy(update={"weather": (row,)})).dew_point_c[0] == pytest.approx(9.27239, abs=0.05)


def test_a_dew_point_just_above_the_air_counts_as_saturated(template: Shop) -> None:
    """Two rounded readings may cross by a little."""
    row = WeatherHour(at=START, air_temp_c=15.0, dew_point_c=15.4)
    assert hourly_weather(template.model_copy(update={"weather": (row,)})).dew_point_c.tolist() == [15.0]


def test_the_29th_of_february_is_the_28th_of_a_typical_year() -> None:
    """A typical year has 365 days."""
    assert calendar_hour(datetime(2028, 2, 29, 12, tzinfo=UTC), timedelta(hours=1)) == (2, 28, 13)
    assert calendar_hour(datetime(2028, 2, 29, 23, 30, tzinfo=UTC), timedelta(hours=1)) == (3, 1, 0)


@pytest.mark.parametrize(
    ("zone", "hours"),
    [("America/New_York", -5), ("Europe/Berlin", 1), ("Australia/Sydney", 10), ("Europe/Dublin", 0), ("UTC", 0)],
)
def test_standard_time_is_that_of_winter_on_either_half_of_the_globe(zone: str, hours: int) -> None:
    """IANA zone database: standard offsets of five zones, one south of the equator, one whose law calls summer standard."""
    assert standard_offset(ZoneInfo(zone), 2026) == timedelta(hours=hours)


def test_climates_of_yard_and_bays(template: Shop) -> None:
    """The yard has the wind and the rain, a heated and dried bay neither, nor air colder or damper than it is kept."""
    weather = hourly_weather(template)
    yard, coat = bay_climate(template, weather, None), bay_climate(template, weather, template.bay_by_id["B2"])
    assert np.array_equal(yard.wind_m_s, weather.wind_m_s)
    assert (yard.steel_temp_c < weather.air_temp_c).any()
    assert not coat.rain_mm.any()
    assert coat.air_temp_c.min() >= 20
    assert coat.rh_pct.max() <= 55.001
