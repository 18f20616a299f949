"""Figures of the workbook: a shop of 400 units written and read, beside the same shop as a folder."""

import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from random_shop import random_shop

from scheduler.shop.faults import BadInputError
from scheduler.shop.read import read_shop
from scheduler.shop.workbook.write import write_workbook
from scheduler.shop.write import write_shop

COUNTY = Path(__file__).parents[2] / "demo" / "county"


def timed(work: Callable[[], object]) -> float:
    """Seconds on the clock, the best of three."""
    spans = []
    for _ in range(3):
        began = time.perf_counter()
        work()
        spans.append(time.perf_counter() - began)
    return min(spans)


def test_400_units(tmp_path: Path) -> None:
    """Print one table; nothing is asserted of the clock."""
    big = random_shop(1, 400).model_copy(update={"typical_year": ()})
    year = read_shop(COUNTY)
    print("\nunits  weather rows  folder written  read  workbook written  read   (s)")
    for shop, folder, book in ((big, "big", "big.xlsx"), (year, "county", "county.xlsx")):
        spans = [
            timed(lambda shop=shop, folder=folder: write_shop(shop, tmp_path / folder)),  # type: ignore[misc]
            timed(lambda shop=shop, book=book: write_workbook(shop, tmp_path / book)),  # type: ignore[misc]
        ]
        back = [timed(lambda place=place: _read(tmp_path / place)) for place in (folder, book)]  # type: ignore[misc]
        rows = len(shop.weather) + len(shop.typical_year)
        print(f"{len(shop.units):5d}  {rows:12d}  {spans[0]:14.2f}  {back[0]:4.2f}  {spans[1]:16.2f}  {back[1]:4.2f}")


def _read(place: Path) -> None:
    with suppress(BadInputError):  # a drawn shop of this size is too much work for its crew: reading it takes as long
        read_shop(place)
