"""The loading list of the warmers: which cartridge goes into which slot when, when it may come out, how long it may lie outside.

The product's safety data sheet sets the highest temperature of a warmer; nothing here says that one is permitted.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from math import floor, isinf

from scheduler.material.pack_lives import local_day
from scheduler.physics.warm_up import Cartridge, out_of_warmer_min, soak_h
from scheduler.schedule.schedule import Draw, Schedule, Work
from scheduler.shop.product_sheet import Product
from scheduler.shop.resources import Equipment
from scheduler.shop.shop import Shop

AirC = Callable[[str, datetime, datetime], float | None]
"""Coldest air of a bay from one moment to another, °C; None where it is not known."""


@dataclass(frozen=True, slots=True)
class Loading:
    """One cartridge in one slot of a warmer, ``draw.warmer_id`` and ``draw.slot``, from ``loaded_at`` to the start of a step.

    Attributes
    ----------
    load_day, use_day : date
        Local days; apart for what is loaded in the evening, the same for the day's reload.
    content_ml : float
        What is in it when it goes in: a recapped one is not full.
    warm_from : datetime or None
        From when it may come out; None where the sheet does not tell how it warms up.
    bench_c : float or None
        Coldest air of the bay during the step.
    outside_min : int or None
        Longest time outside in that air before it is too cold to spray, whole minutes; None where there is no limit.
    """

    work: Work
    draw: Draw
    product: Product
    warmer_id: str
    slot: int
    loaded_at: datetime
    load_day: date
    use_day: date
    content_ml: float
    warm_from: datetime | None
    bench_c: float | None
    outside_min: int | None

    @property
    def overnight(self) -> bool:
        """Whether it is loaded for a later day; otherwise it is the day's reload."""
        return self.load_day < self.use_day

    @property
    def recapped(self) -> bool:
        """Whether it was opened before."""
        return self.draw.begins != "opened"


def warmer_list(shop: Shop, schedule: Schedule, air_c: AirC) -> tuple[Loading, ...]:
    """Every loading of a plan by time, warmer and slot."""
    warmers = {row.equipment_id: row for row in shop.equipment}
    rows = (row for work in schedule.work if not work.done for row in _of_work(shop, warmers, work, air_c))
    return tuple(sorted(rows, key=lambda row: (row.loaded_at, row.warmer_id, row.slot)))


def _of_work(shop: Shop, warmers: dict[str, Equipment], work: Work, air_c: AirC) -> Iterator[Loading]:
    product = shop.product_by_id.get(work.product_id or "")
    bench_c = air_c(work.bay_id, work.start, work.end) if work.bay_id else None
    for draw in work.draws:
        if draw.warmer_id is None or draw.slot is None or draw.loaded_at is None or product is None:
            continue
        warming = _Warming(shop, product, warmers.get(draw.warmer_id.partition("#")[0]))
        yield Loading(
            work=work,
            draw=draw,
            product=product,
            warmer_id=draw.warmer_id,
            slot=draw.slot,
            loaded_at=draw.loaded_at,
            load_day=local_day(shop, draw.loaded_at),
            use_day=local_day(shop, work.start),
            content_ml=draw.purge_ml + draw.sprayed_ml + draw.left_ml,
            warm_from=warming.warm_from(draw, draw.loaded_at, work.start, bench_c),
            bench_c=bench_c,
            outside_min=warming.outside_min(bench_c),
        )


@dataclass(frozen=True, slots=True)
class _Warming:
    """How the cartridges of a product warm up in one warmer and cool down outside it."""

    shop: Shop
    product: Product
    warmer: Equipment | None

    def warm_from(self, draw: Draw, loaded_at: datetime, used_at: datetime, bench_c: float | None) -> datetime | None:
        """When it is warm, counted from the store's temperature, a recapped one from that of a colder bay.

        A recapped one may be warm sooner, for it goes in less cold than the store; its step is when it is warm at the latest.
        """
        warmer, cartridge, spray_c = self.warmer, self._cartridge(), self.product.spray_min_c
        if warmer is None or warmer.set_point_c is None or warmer.film_w_m2k is None or cartridge is None or spray_c is None:
            return None
        cold_c = self.shop.site.store_temp_c
        if draw.begins != "opened" and bench_c is not None:
            cold_c = min(cold_c, bench_c)
        soak_min = floor(60 * soak_h(cartridge, warmer.film_w_m2k, cold_c, warmer.set_point_c, spray_c)) + 1
        return min(loaded_at + timedelta(minutes=soak_min), used_at)

    def outside_min(self, bench_c: float | None) -> int | None:
        """Whole minutes, rounded down."""
        warmer, cartridge, spray_c = self.warmer, self._cartridge(), self.product.spray_min_c
        if warmer is None or warmer.set_point_c is None or cartridge is None or spray_c is None or bench_c is None:
            return None
        film = self.shop.site.bench_film_w_m2k
        minutes = out_of_warmer_min(cartridge, film, warmer.set_point_c, bench_c, spray_c)
        return None if isinf(minutes) else floor(minutes)

    def _cartridge(self) -> Cartridge | None:
        p = self.product
        stated = (p.radius_mm, p.length_mm, p.conductivity_w_mk, p.density_kg_m3, p.specific_heat_j_kgk)
        known = [value for value in stated if value is not None]
        return Cartridge(*known) if len(known) == len(stated) else None
