"""Cartridges against values from outside: the count of a long run, warm-up tables through the checker, bounds of bin packing."""

from datetime import date, timedelta

import pytest
from check.tiny import at, broken, edit, tiny_schedule
from draws import loaded
from tiny_shop import COAT_BAY, EQUIPMENT, LINING, PREPARE_BAY, PRIMER, SITE, product_times, weather, with_row

from scheduler.material.best_ledger import best_ledger
from scheduler.material.bin_packing import l1, l2
from scheduler.material.bound import least_packs
from scheduler.material.ledger import keep_ledger
from scheduler.material.pack import Film, Lot, PackSheet, at_least_ul
from scheduler.physics.film import practical_ml
from scheduler.schedule.schedule import Schedule


def run_of_148_litres() -> tuple[Film, PackSheet, Lot]:
    """42 m² at 3 mm with 15 % loss from cartridges of 1.5 L, of which 60 mL are purged and 45 mL stay in the heel."""
    sheet = PackSheet(1_500_000, 45_000, 60_000, 60_000, (1000,) * 1000, tuple(range(1001)))
    volume_ul = at_least_ul(practical_ml(42, 3000, 100, 0, 15))
    return Film(0, "P", 10, 90, volume_ul), sheet, Lot("L", "P", 200, 0, 1000)


def test_107_cartridges_for_42_square_metres_of_three_millimetres() -> None:
    """148.235 L over 1.395 L are 106.262, so 107 (film build arithmetic: ISO 23811 and ISO 3233, from memory)."""
    film, sheet, lot = run_of_148_litres()
    assert film.volume_ul == pytest.approx(148_235_294, abs=1)
    assert film.volume_ul / sheet.usable_ul == pytest.approx(106.262, abs=5e-4)
    for ledger in (keep_ledger([film], {"P": sheet}, [lot], ()), best_ledger([film], {"P": sheet}, [lot], ())):
        assert len({entry.pack for entry in ledger.entries}) == 107
        assert sum(entry.sprayed_ul for entry in ledger.entries) == film.volume_ul
        assert not ledger.shorts
    assert least_packs([film.volume_ul], sheet).packs == 107
    starved = keep_ledger([film], {"P": sheet}, [Lot("L", "P", 106, 0, 1000)], ())
    assert starved.missing_ul() == film.volume_ul - 106 * sheet.usable_ul


def _spoiled(schedule: Schedule, soak_h: float) -> Schedule:
    """U1's first coat with its cartridges loaded so many hours before it starts at 12:45."""
    moment = at(0, "12:45") - timedelta(hours=soak_h)
    return edit(schedule, "U1/coat-1", lambda work: {"draws": loaded(work.draws, moment)})


# Radius mm, film W/m²K, hours until the core is at 26.667 °C from 10 and from 15 °C in 29.444 °C: Incropera ch. 5 (from
# memory), 60 terms, with a finite-volume solve made apart from this project that agreed to four digits.
SOAKS = [
    (25, 8, 2.4534, 2.1125),
    (30, 5, 4.3456, 3.7387),
    (30, 8, 3.1092, 2.6841),
    (30, 12, 2.4206, 2.0976),
    (35, 8, 3.8147, 3.3020),
]


@pytest.mark.parametrize(("radius_mm", "film", "from_10", "from_15"), SOAKS)
def test_the_checker_wants_the_soak_of_the_tables(radius_mm: float, film: float, from_10: float, from_15: float) -> None:
    """Half a percent less than the table's hours is refused as warm_cartridges, half a percent more is not."""
    products = [PRIMER, {**LINING, "radius_mm": radius_mm}]
    warmers = with_row(EQUIPMENT, "equipment_id", "W1", film_w_m2k=film)
    for store_c, soak_h in ((10, from_10), (15, from_15)):
        shop = {"products": products, "equipment": warmers, "site": {**SITE, "store_temp_c": store_c}}
        schedule = _all_long_ago(tiny_schedule())
        assert broken(_spoiled(schedule, 1.005 * soak_h), **shop) == set()
        assert broken(_spoiled(schedule, 0.995 * soak_h), **shop) == {"warm_cartridges"}


def _all_long_ago(schedule: Schedule) -> Schedule:
    """All cartridges of the later coats loaded the day before, so that only the first coat's soak is in question."""
    for work_id, moment in (("U2/coat-1", at(1, "15:00")), ("U2/coat-2", at(2, "13:30"))):
        slots = range(6, 11) if work_id == "U2/coat-1" else range(1, 6)
        schedule = edit(
            schedule,
            work_id,
            lambda work, moment=moment, slots=slots: {  # type: ignore[misc]
                "draws": tuple(
                    d.model_copy(update={"loaded_at": moment, "slot": slot}) for d, slot in zip(work.draws, slots, strict=True)
                )
            },
        )
    return schedule


# Radius mm, film W/m²K, minutes on a bench at 10 °C until the mean falls from 29.444 to 26.667 °C: as above.
BENCHES = [(25, 8, 8.896), (30, 5, 16.33), (30, 8, 10.68), (30, 12, 7.48), (35, 8, 12.45)]


@pytest.mark.parametrize(("radius_mm", "film", "minutes"), BENCHES)
def test_the_checker_knows_how_long_a_cartridge_stays_warm(radius_mm: float, film: float, minutes: float) -> None:
    """On a bench at 10 °C: half a percent under the table's minutes outside the warmer is kept, half a percent over is not."""
    cold = {
        "products": [PRIMER, {**LINING, "radius_mm": radius_mm}],
        "bays": [{**COAT_BAY, "heated_to_c": None}, PREPARE_BAY],
        "weather": [{**row, "air_temp_c": 10.0, "dew_point_c": 5.0} for row in weather()],
        "product_times": [{**row, "temp_c": row["temp_c"] - 10} for row in product_times()],  # type: ignore[operator]
    }
    for share, rules in ((0.995, set()), (1.005, {"warm_cartridges"})):
        site = {**SITE, "bench_film_w_m2k": film, "spray_load_min": share * minutes}
        assert broken(_all_long_ago(tiny_schedule()), site=site, **cold) - rules == set()
        assert ("warm_cartridges" in broken(tiny_schedule(), site=site, **cold)) == bool(rules)


def test_twelve_cartridges_fill_a_warmer_in_the_evening() -> None:
    """A thirteenth in a warmer of twelve slots is refused (common practice, no source: twelve slots)."""
    assert next(row for row in EQUIPMENT if row["kind"] == "warmer")["slots"] == 12
    over = edit(
        tiny_schedule(), "U1/coat-1", lambda work: {"draws": (work.draws[0].model_copy(update={"slot": 13}), *work.draws[1:])}
    )
    assert broken(over) == {"warm_cartridges"}


# Worked by hand after Martello and Toth, Knapsack Problems (Wiley 1990), section 8.3, whose definitions of L1 and L2 are from
# memory: sizes, bin, L1, L2, fewest bins.
PACKINGS = [
    ([6, 6, 6, 6], 10, 3, 4, 4),  # more than half a bin each: nothing goes together
    ([7, 7, 7, 4, 4, 4], 10, 4, 5, 5),  # k = 4: the sevens have no room for a four, the fours go two to a bin
    ([5, 5, 5], 10, 2, 2, 2),  # halves fit in pairs, k = 5 asks for no more
    ([9, 8, 2, 1], 10, 2, 2, 2),
    ([99, 94, 79, 64, 50, 46, 43, 37, 32, 19, 18, 7, 6, 3], 100, 6, 6, 7),  # a gap that L2 does not close
    ([70, 60, 50, 33, 33, 33, 11, 7, 3], 100, 3, 4, 4),  # the book's example, from memory: k = 33 gives 2 + ceil(109 / 100)
]


@pytest.mark.parametrize(("sizes", "bin_size", "first", "second", "fewest"), PACKINGS)
def test_bounds_of_bin_packing(sizes: list[int], bin_size: int, first: int, second: int, fewest: int) -> None:
    """L1 and L2 as worked, neither above the fewest bins, which CP-SAT proves (library ortools)."""
    from material.test_least import fewest_bins

    assert (l1(sizes, bin_size), l2(sizes, bin_size)) == (first, second)
    assert fewest_bins(sizes, bin_size) == fewest


def test_half_a_year_of_open_life() -> None:
    """A pack opened 183 days before is used on its last day and not a day later (common practice, no source: six months)."""
    schedule = edit(
        tiny_schedule(),
        "U1/coat-1",
        lambda work: {"draws": (work.draws[0].model_copy(update={"cartridge_id": "X1", "begins": "resumed"}), *work.draws[1:])},
    )
    last = date(2025, 6, 2) - timedelta(days=183)
    for opened_on, rules in ((last, set()), (last - timedelta(days=1), {"open_life"})):
        rows = [{"pack_id": "X1", "lot_id": "A1", "opened_on": opened_on, "remaining_ml": 1100}]
        assert broken(schedule, opened=rows) == rules
