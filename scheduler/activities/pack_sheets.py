"""Product sheets as the cartridge ledger needs them: contents in microlitres, open life and warming again on the grid."""

import math
from dataclasses import replace

import numpy as np

from scheduler.activities.climates import Climates
from scheduler.material.contents import contents
from scheduler.material.pack import PackSheet, Slots
from scheduler.shop.product_sheet import Product, Supply


def pack_sheets(climates: Climates) -> dict[str, PackSheet]:
    """Sheet of every product, by its id."""
    return {p.product_id: _sheet(climates, p) for p in climates.shop.products}


def _sheet(climates: Climates, product: Product) -> PackSheet:
    return replace(contents(climates.shop, product), lapses=_lapses(climates, product), back=_back(climates, product))


def _lapses(climates: Climates, product: Product) -> Slots:
    """For each slot of opening the slot by which the last use has ended: a pack keeps to the end of its last day."""
    grid = climates.grid
    days = np.arange(int(grid.day[0]), int(grid.day[-1]) + 2) if len(grid) else np.arange(0)
    first_of = np.searchsorted(grid.day, days + math.floor(product.open_life_d) + 1)
    return tuple(first_of[grid.day - grid.day[0]].tolist()) if len(grid) else ()


def _back(climates: Climates, product: Product) -> Slots:
    """For each slot at which a use ends the first slot at which the recapped pack is warm again.

    It goes back into the warmer at once, except at the end of a shift, when the next morning is the first chance to count on.
    """
    n, grid = len(climates.grid), climates.grid
    if product.supply is not Supply.CARTRIDGE or not climates.warms(product):
        return tuple(range(n + 1))
    with_the_rest = np.searchsorted(np.array(climates.load(product)), np.arange(n + 1))
    at_once = np.searchsorted(np.array(climates.load_again(product)), np.arange(n + 1))
    same_shift = np.zeros(n + 1, dtype=bool)
    same_shift[1:n] = grid.real[1:] == grid.real[:-1] + 1
    return tuple(np.where(same_shift, np.minimum(at_once, with_the_rest), with_the_rest).tolist())
