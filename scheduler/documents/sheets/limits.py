"""What to measure before a step and the limits that the readings must keep, as they stand on a day sheet."""

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.documents.words.reading_units import Limit, Scale
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.schedule import Work
from scheduler.shop.methods import FILM_STEPS, Method
from scheduler.shop.product_sheet import Product, Supply


@dataclass(frozen=True, slots=True)
class Reading:
    """One thing to measure.

    Attributes
    ----------
    what : str
        The quantity.
    must_be : str
        Its limits in what the site reads; a lower limit is rounded up, an upper one down.
    name : str
        Column name in CSV, without the end that says which limit.
    low, high : float or None
        The limits as the shop's files hold them.
    """

    what: str
    must_be: str
    name: str
    low: float | None
    high: float | None


def readings(words: WorkWords, work: Work) -> tuple[Reading, ...]:
    """Readings that a step asks for: the product's limits for a film, and those of the method; the tighter one counts."""
    method = words.shop.method_of.get(work.step)
    product = words.shop.product_by_id.get(work.product_id or "") if work.step in FILM_STEPS else None
    bay = words.shop.bay_by_id.get(work.bay_id or "")
    outdoors = bay is None or bay.outdoor
    rows = _rows(words, method, product, outdoors)
    return tuple(_reading(*row) for row in rows if row[3] is not None or row[4] is not None)


Row = tuple[str, str, Scale, float | None, float | None]


def _rows(words: WorkWords, method: Method | None, product: Product | None, outdoors: bool) -> Iterator[Row]:
    units = words.units
    yield "steel temperature", "steel_c", units.temperature, _of(product, "steel_min_c"), _of(product, "steel_max_c")
    air_min = _highest(_of(product, "air_min_c"), method.air_min_c if method else None)
    yield "air temperature", "air_c", units.temperature, air_min, _of(product, "air_max_c")
    yield "steel above dew point", "dew_margin_k", units.difference, _of(product, "dew_margin_k"), None
    rh_max = _lowest(_of(product, "rh_max_pct"), method.rh_max_pct if method else None)
    yield "humidity", "rh_pct", units.humidity, None, rh_max
    if product is not None and product.supply is Supply.CARTRIDGE:
        yield "material in the cartridge", "material_c", units.temperature, product.spray_min_c, product.spray_max_c
    if outdoors:
        wind_max = _lowest(_of(product, "wind_max_m_s"), method.wind_max_m_s if method else None)
        yield "wind", "wind_m_s", units.wind, None, wind_max
        rain_max = _lowest(None if product is None else 0.0, method.rain_max_mm if method else None)
        yield "rain in an hour", "rain_mm", units.rain, None, rain_max


def _reading(what: str, name: str, scale: Scale, low: float | None, high: float | None) -> Reading:
    at_least = None if low is None else scale.text(low, Limit.AT_LEAST)
    at_most = None if high is None else scale.text(high, Limit.AT_MOST)
    if high == 0:
        what, must_be = what.removesuffix(" in an hour"), "none"
    elif at_least and at_most:
        must_be = f"{at_least} to {at_most}"
    else:
        must_be = f"at least {at_least}" if at_least else f"at most {at_most}"
    return Reading(what, must_be, name, low, high)


def _of(product: Product | None, name: str) -> float | None:
    value: float | None = getattr(product, name, None)
    return value


def _highest(*limits: float | None) -> float | None:
    return max((limit for limit in limits if limit is not None), default=None)


def _lowest(*limits: float | None) -> float | None:
    return min((limit for limit in limits if limit is not None), default=None)
