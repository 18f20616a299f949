"""What is fetched from the store on a day, and what goes back or away: material by lot, what goes with it, clothing.

Usage figures of solvent and discs are `common practice, no source`; they are for fetching, not for buying. What the
safety data sheet asks for in protection goes before what is counted here.
"""

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import date
from itertools import groupby
from typing import Final

from scheduler.documents.store.pick import Pick, PickList
from scheduler.documents.store.store_returns import store_returns
from scheduler.documents.words.reading_units import Limit
from scheduler.documents.words.work_words import WorkWords
from scheduler.material.store_days import Fetched, StoreDay
from scheduler.schedule.schedule import Work
from scheduler.shop.day_words import day_and_year_text, day_text
from scheduler.shop.methods import FILM_STEPS, Step
from scheduler.shop.product_sheet import Supply

SOLVENT_ML_PER_M2: Final = {Step.WASH: 100.0, Step.WIPE: 60.0}
"""Solvent for cleaning and for wiping again, mL for a square metre: common practice, no source."""
DISC_M2: Final = {Step.STRIP: 1.0, Step.ABRADE: 3.0, Step.CUT_OUT: 0.5}
"""Area that one abrasive disc does, m²: common practice, no source."""
GLOVED: Final = FILM_STEPS | {Step.WIPE, Step.WASH}


def pick_list(words: WorkWords, day: date) -> PickList:
    """List for a local day; work already done needs nothing more."""
    works = [work for work in words.by_day.begun.get(day, ()) if not work.done]
    moves = words.store_days.get(day, StoreDay())
    fetch = (*_fetched(words, moves, day, Supply.CARTRIDGE), *_nozzles(words, works), *_fetched(words, moves, day, Supply.CAN))
    rest = (*_solvent(words, works), *_discs(works), *_clothing(words, works))
    return PickList(day, (*fetch, *rest, *store_returns(words, moves)))


def _fetched(words: WorkWords, moves: StoreDay, day: date, supply: Supply) -> Iterator[Pick]:
    """Packs that leave the store, opened ones first, then the lot that expires first; each counts once a day."""
    noun = "Cartridges" if supply is Supply.CARTRIDGE else "Cans"
    rows = [row for row in moves.fetch if row.life.product.supply is supply]
    for row in sorted((r for r in rows if not r.is_new), key=lambda r: (r.life.keeps_until, r.life.pack)):
        kind = "opened" if row.life.stood is not None else "recapped"
        left = words.units.volume.text(row.content_ml, Limit.AT_MOST)
        note = f"use first; lot {row.life.lot.lot_id}, {left} left{_for_later(words, [row], day)}"
        yield Pick(noun, words.product(row.life.product.product_id), 1, "pieces", "1", f"{kind} {row.life.pack}", note)
    new = sorted((r for r in rows if r.is_new), key=_shelf_place)
    for lot, group in groupby(new, key=lambda r: r.life.lot):
        packs = list(group)
        note = f"expires {day_and_year_text(lot.expires_on)}{_for_later(words, packs, day)}"
        yield Pick(noun, words.product(lot.product_id), len(packs), "pieces", str(len(packs)), f"lot {lot.lot_id}", note)


def _shelf_place(row: Fetched) -> tuple[str, date, str]:
    return row.life.product.product_id, row.life.lot.expires_on, row.life.lot.lot_id


def _for_later(words: WorkWords, rows: list[Fetched], day: date) -> str:
    """How many of them go into a warmer for a later day."""
    days = Counter(used for row in rows if (used := words.time.day(row.use.work.start)) != day)
    parts = (f"{count} into the warmer for {day_text(used)}" for used, count in sorted(days.items()))
    return "".join(f"; {part}" for part in parts)


def _nozzles(words: WorkWords, works: list[Work]) -> Iterable[Pick]:
    """A mixer with nut and a tip for each start: a cartridge with which a gun goes on keeps its own."""
    count = sum(draw.begins != "continued" for work in works if _in_cartridges(words, work) for draw in work.draws)
    items = ("Static mixer with nut", "Spray tip") if count else ()
    return [Pick("With the cartridges", item, count, "pieces", str(count), note="one for each start") for item in items]


def _in_cartridges(words: WorkWords, work: Work) -> bool:
    row = words.shop.product_by_id.get(work.product_id or "")
    return row is not None and row.supply is Supply.CARTRIDGE


def _solvent(words: WorkWords, works: list[Work]) -> Iterable[Pick]:
    exact_ml = sum(SOLVENT_ML_PER_M2.get(work.step, 0.0) * work.area_m2 for work in works)
    if exact_ml:
        amount_ml = 50 * math.ceil(exact_ml / 50)
        shown = words.units.volume.text(amount_ml, Limit.AT_LEAST)
        yield Pick("Cleaning and abrading", "Fast-drying solvent", amount_ml, "mL", shown, note="rule of thumb by area")


def _discs(works: list[Work]) -> Iterable[Pick]:
    count = sum(math.ceil(work.area_m2 / DISC_M2[work.step]) for work in works if work.step in DISC_M2)
    if count:
        yield Pick("Cleaning and abrading", "Abrasive disc", count, "pieces", str(count), note="rule of thumb by area")


def _clothing(words: WorkWords, works: list[Work]) -> Iterable[Pick]:
    """Clothing by person: a suit and a pair of filters a day under a respirator, gloves for each step with wet material."""
    masked = {a.person_id for w in works if (m := words.shop.method_of.get(w.step)) and m.respirator for a in w.people}
    gloves = sum(len({a.person_id for a in work.people}) for work in works if work.step in GLOVED)
    items = (
        ("Protective suit", len(masked), "one a person under a respirator"),
        ("Pair of filters", len(masked), "one a person under a respirator; change times by the safety data sheet"),
        ("Pair of gloves", gloves, "one a person and step; material by the safety data sheet"),
    )
    return [Pick("Protective clothing", item, n, "pieces", str(n), note=note) for item, n, note in items if n]
