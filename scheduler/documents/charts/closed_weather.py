"""Hours in which no product of the plan may be sprayed in a bay, and what the weather is like in them."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, timedelta
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from scheduler.documents.charts.bars import Bar
from scheduler.documents.charts.rows import Rows
from scheduler.documents.words.work_words import WorkWords
from scheduler.physics.weather_window import BayClimate, hours_allowed
from scheduler.shop.forecast import bay_climate, hourly_weather
from scheduler.shop.methods import FILM_STEPS
from scheduler.shop.product_sheet import Product
from scheduler.shop.resources import Bay
from scheduler.shop.shop import Shop
from scheduler.shop.weather_limits import product_limits


def closed_weather(words: WorkWords, rows: Rows) -> tuple[Bar, ...]:
    """Bars of closed hours in every place of the bays in which films are sprayed; none for a shop without weather."""
    shop = words.shop
    if not (shop.weather or shop.typical_year):
        return ()
    weather = hourly_weather(shop)
    bays = [bay for bay in shop.bays if set(bay.stages) & _film_stages(shop)]
    return tuple(bar for bay in bays for bar in _bay_bars(words, rows, bay, bay_climate(shop, weather, bay)))


def _film_stages(shop: Shop) -> set[str]:
    return {method.stage for step, method in shop.method_of.items() if step in FILM_STEPS}


def _products(words: WorkWords) -> Iterable[Product]:
    ids = {work.product_id for work in words.schedule.work if work.product_id}
    return [product for product in words.shop.products if product.product_id in ids] or words.shop.products


def _bay_bars(words: WorkWords, rows: Rows, bay: Bay, climate: BayClimate) -> Iterator[Bar]:
    allowed = np.zeros(len(climate), dtype=np.bool_)
    for product in _products(words):
        allowed |= hours_allowed(climate, product_limits(product))
    places = [row for (bay_id, _), row in rows.row_of_place.items() if bay_id == bay.bay_id]
    for hours in _runs(~allowed, _days(words, climate)):
        bar = _bar(words, climate, hours)
        if bar is not None:
            yield from (replace(bar, row=row) for row in places)


def _days(words: WorkWords, climate: BayClimate) -> list[date]:
    return [words.time.day(climate.start_utc + timedelta(hours=hour)) for hour in range(len(climate))]


def _runs(flags: NDArray[np.bool_], days: list[date]) -> Iterator[range]:
    """Runs of flagged hours, one a day at least, so that what is said of the weather is said of one day."""
    for (flagged, _), group in groupby(range(flags.size), key=lambda hour: (bool(flags[hour]), days[hour])):
        hours = list(group)
        if flagged:
            yield range(hours[0], hours[-1] + 1)


def _bar(words: WorkWords, climate: BayClimate, hours: range) -> Bar | None:
    site = words.shop.site
    start = max(climate.start_utc + timedelta(hours=hours.start), site.plan_from)
    end = min(climate.start_utc + timedelta(hours=hours.stop), site.plan_until)
    if start >= end:
        return None
    first, length = words.time.axis_span_ms(start, end)
    times = f"{words.time.text(start)} to {words.time.text(end)}"
    return Bar("weather", 0, first, length, "", ("Closed for spraying", *_worst(words, climate, hours), times))


def _worst(words: WorkWords, climate: BayClimate, hours: range) -> Iterator[str]:
    here, units = slice(hours.start, hours.stop), words.units
    coldest, hottest = climate.steel_temp_c[here].min(), climate.steel_temp_c[here].max()
    yield f"steel {units.temperature.text(coldest)} to {units.temperature.text(hottest)}"
    yield f"steel above dew point at least {units.difference.text(climate.dew_margin_k[here].min())}"
    yield f"humidity up to {units.humidity.text(climate.rh_pct[here].max())}"
    if climate.rain_mm[here].max() > 0:
        yield f"rain up to {units.rain.text(climate.rain_mm[here].max())} in an hour"
    if climate.wind_m_s[here].max() > 0:
        yield f"wind up to {units.wind.text(climate.wind_m_s[here].max())}"
