"""A reading beside the limits of the film that came next when it was taken: what is outside of them, and by how much.

It is arithmetic on what was measured in one place at one time; the product's safety data sheet and whoever measures decide.
"""

from collections.abc import Iterator
from dataclasses import replace

from scheduler.physics.psychrometrics import dew_point_c, rh_pct
from scheduler.record.desk import Desk
from scheduler.record.events import Reading
from scheduler.record.history import begin_of
from scheduler.record.thickness import thickness_words
from scheduler.shop.methods import FILM_STEPS
from scheduler.shop.need import Need
from scheduler.shop.product_sheet import Product


def reading_words(desk: Desk, event: Reading) -> tuple[str, ...]:
    """What a reading says, a line each: of the next film of its unit, or of the units in its bay, and of the thickness so far.

    Nothing where no film is to come, or nothing was measured that has a limit. A reading that is recorded late says it of the
    film that was next, or was being sprayed, when it was taken.
    """
    then = replace(desk, now=min(desk.now, event.happened_at))
    in_bay = (unit_id for unit_id in desk.shop.unit_by_id if event.bay_id in then.unit_now(unit_id).bays)
    units = [event.unit_id] if event.unit_id is not None else list(in_bay)
    words = [_before_film(then, event, unit_id) for unit_id in units]
    if event.unit_id is not None and event.dft_um:
        words.append(thickness_words(then, event.unit_id, event.dft_um))
    return tuple(text for text in words if text)


def _before_film(then: Desk, event: Reading, unit_id: str) -> str:
    film = _next_film(then, unit_id)
    if film is None or film.product is None:
        return ""
    measured = list(_figures(event, film.product))
    if not measured:
        return ""
    outside = [text for text, inside in measured if not inside]
    before = f"before {film.name} of {unit_id}, {film.product.name}"
    if outside:
        return f"{before}: outside the limits of its sheet: {'; '.join(outside)}"
    return f"{before}: what was measured lies within the limits of its sheet: {'; '.join(text for text, _ in measured)}"


def _next_film(desk: Desk, unit_id: str) -> Need | None:
    unit, begin = desk.unit_now(unit_id), begin_of(desk.shop, desk.now)
    done = {row.step for row in unit.done if not row.is_under_way(begin)}
    return next((need for need in unit.needs if need.step in FILM_STEPS and need.name not in done), None)


def _figures(event: Reading, product: Product) -> Iterator[tuple[str, bool]]:
    """Yield what was measured beside its limit, and whether it is within it."""
    yield from _band("air", event.air_c, product.air_min_c, product.air_max_c)
    yield from _band("steel", event.steel_c, product.steel_min_c, product.steel_max_c)
    dew_c, humidity_pct = event.dew_point_c, event.rh_pct
    if event.air_c is not None:
        dew_c = float(dew_point_c(event.air_c, event.rh_pct)) if dew_c is None and event.rh_pct is not None else dew_c
        humidity_pct = float(rh_pct(event.air_c, dew_c)) if humidity_pct is None and dew_c is not None else humidity_pct
    if humidity_pct is not None and product.rh_max_pct is not None:
        yield f"humidity {humidity_pct:.0f} %, at most {product.rh_max_pct:g} %", humidity_pct <= product.rh_max_pct
    if event.steel_c is not None and dew_c is not None:
        above_k, least_k = event.steel_c - dew_c, product.dew_margin_k
        yield f"steel {above_k:.1f} K above the dew point, at least {least_k:g} K", above_k >= least_k


def _band(name: str, value_c: float | None, least_c: float | None, most_c: float | None) -> Iterator[tuple[str, bool]]:
    if value_c is not None and (least_c is not None or most_c is not None):
        limits = " and ".join(
            f"{word} {limit:g} °C" for word, limit in (("at least", least_c), ("at most", most_c)) if limit is not None
        )
        inside = (least_c is None or value_c >= least_c) and (most_c is None or value_c <= most_c)
        yield f"{name} {value_c:g} °C, {limits}", inside
