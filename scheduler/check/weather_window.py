"""weather_window: every hour of a step within the method's limits, of a film within the product's, until it can take weather."""

from collections.abc import Iterator
from datetime import datetime

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.check.moments import hours
from scheduler.check.needed_films import Film
from scheduler.physics.weather_window import Limits
from scheduler.shop.methods import Method
from scheduler.shop.product_sheet import Product

_RULE = "weather_window"


def check(facts: Facts) -> Iterator[Breach]:
    """Yield hours that a step or a fresh film may not have, and work past the end of the weather."""
    for job in facts.planned:
        past = hours(facts.climates.ends, job.end)
        if past > 0:
            says = f"{job.label} on {facts.when(job.start)} ends {past:.1f} h after the last hour of weather"
            yield facts.breach(_RULE, (job,), job.end, past, says)
        for span in job.spans:
            yield from _hours(facts, job, _of_method(job.method), span.start, span.end, "")
        if job.need.film and job.bay:
            yield from _hours(facts, job, _of_product(job.need.film.product), job.start, job.end, "")
            yield from _fresh(facts, job, job.need.film, job.bay.bay_id)


def _fresh(facts: Facts, job: Job, film: Film, bay_id: str) -> Iterator[Breach]:
    """Yield hours of condensation or rain on a film that cannot take it yet."""
    ready = facts.clock.reached(bay_id, film.product, "rain_safe_h", job.end)
    limits = Limits(dew_margin_k=film.product.dew_margin_k, rain_max_mm=0.0)
    yield from _hours(facts, job, limits, job.end, ready or max(facts.climates.ends, job.end), " while the film is fresh")
    if ready is None:
        says = f"{job.label} on {facts.when(job.start)} cannot take weather before the last hour of weather that is known"
        yield facts.breach(_RULE, (job,), job.end, None, says)


def _hours(facts: Facts, job: Job, limits: Limits, start: datetime, end: datetime, state: str) -> Iterator[Breach]:
    if job.need.stage != "yard" and job.bay is None:
        return
    bay_id = job.bay.bay_id if job.bay else None
    refused = facts.climates.refused(bay_id, limits, start, end)
    if refused:
        at = max(start, facts.climates.hour_start(refused[0]))
        why = facts.climates.why(bay_id, limits, refused[0])
        says = f"{job.label} in {bay_id or 'the yard'} on {facts.when(at)}{state}: {why} ({len(refused)} such h)"
        yield facts.breach(_RULE, (job,), at, float(len(refused)), says)


def _of_method(method: Method) -> Limits:
    return Limits(
        air_min_c=method.air_min_c,
        rh_max_pct=method.rh_max_pct,
        wind_max_m_s=method.wind_max_m_s,
        rain_max_mm=method.rain_max_mm,
    )


def _of_product(product: Product) -> Limits:
    """Return the limits of a product's sheet while it is sprayed; no rain at all falls on it."""
    return Limits(
        air_min_c=product.air_min_c,
        air_max_c=product.air_max_c,
        steel_min_c=product.steel_min_c,
        steel_max_c=product.steel_max_c,
        rh_max_pct=product.rh_max_pct,
        dew_margin_k=product.dew_margin_k,
        wind_max_m_s=product.wind_max_m_s,
        rain_max_mm=0.0,
    )
