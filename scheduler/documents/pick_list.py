"""What is fetched from the store for a day: material by lot, what goes with it, and protective clothing.

Usage figures of solvent and discs are `common practice, no source`; they are for fetching, not for buying. What the
safety data sheet asks for in protection goes before what is counted here.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from operator import attrgetter
from typing import Final

from scheduler.documents.reading_units import Limit
from scheduler.documents.work_words import WorkWords
from scheduler.schedule.schedule import Work
from scheduler.shop.methods import FILM_STEPS, Step
from scheduler.shop.product_sheet import Supply
from scheduler.shop.stock import Opened

SOLVENT_ML_PER_M2: Final = {Step.WASH: 100.0, Step.WIPE: 60.0}
"""Solvent for cleaning and for wiping again, mL for a square metre: common practice, no source."""
DISC_M2: Final = {Step.STRIP: 1.0, Step.ABRADE: 3.0, Step.CUT_OUT: 0.5}
"""Area that one abrasive disc does, m²: common practice, no source."""
GLOVED: Final = FILM_STEPS | {Step.WIPE, Step.WASH}


@dataclass(frozen=True, slots=True)
class Pick:
    """One line of the list.

    Attributes
    ----------
    group : str
        Heading that it stands under.
    item : str
    amount : int or float
        In ``unit``.
    unit : str
        Unit of the amount, as in CSV: ``pieces`` or ``mL``.
    shown : str
        Amount as people read it.
    source : str
        Lot or opened pack; empty for what has none.
    note : str
    """

    group: str
    item: str
    amount: float
    unit: str
    shown: str
    source: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class PickList:
    """What a day needs from the store."""

    day: date
    picks: tuple[Pick, ...]

    def groups(self) -> tuple[tuple[str, tuple[Pick, ...]], ...]:
        """Lines by heading, in the order of the list."""
        return tuple((group, tuple(picks)) for group, picks in groupby(self.picks, key=attrgetter("group")))


def pick_list(words: WorkWords, day: date) -> PickList:
    """List for the work that starts on a local day; work already done needs nothing more."""
    works = [work for work in words.by_day.begun.get(day, ()) if not work.done]
    packs = (*_packs(words, works, Supply.CARTRIDGE), *_nozzles(words, works), *_packs(words, works, Supply.CAN))
    return PickList(day, (*packs, *_solvent(words, works), *_discs(works), *_clothing(words, works)))


def _packs(words: WorkWords, works: list[Work], supply: Supply) -> Iterator[Pick]:
    """Packs by product and source, opened ones first, then the lot that expires first."""
    noun = "Cartridges" if supply is Supply.CARTRIDGE else "Cans"
    expiry = {lot.lot_id: lot.expires_on.isoformat() for lot in words.shop.lots}
    counts = _counts(works)
    for product_id, source, source_id in sorted(counts, key=lambda k: (k[0], k[1] != "opened", expiry.get(k[2], ""), k[2])):
        row = words.shop.product_by_id.get(product_id)
        if row is not None and row.supply is supply:
            count = counts[product_id, source, source_id]
            yield Pick(noun, row.name, count, "pieces", str(count), *_source_words(words, source, source_id))


def _counts(works: list[Work]) -> dict[tuple[str, str, str], int]:
    counts: dict[tuple[str, str, str], int] = defaultdict(int)
    seen: set[str] = set()
    for work in works:
        for draw in work.draws:
            if draw.cartridge_id not in seen:
                source = ("lot", draw.lot_id) if draw.begins == "opened" else ("opened", draw.cartridge_id)
                counts[work.product_id or "", *source] += 1
            seen.add(draw.cartridge_id)
    return counts


def _source_words(words: WorkWords, source: str, source_id: str) -> tuple[str, str]:
    if source == "opened":
        return f"opened {source_id}", next((_opened(words, row) for row in words.shop.opened if row.pack_id == source_id), "")
    if source == "lot":
        expires = next((row.expires_on.isoformat() for row in words.shop.lots if row.lot_id == source_id), "not known")
        return f"lot {source_id}", f"expires {expires}"
    return "", "lot not chosen"


def _opened(words: WorkWords, row: Opened) -> str:
    return f"use first; lot {row.lot_id}, {words.units.volume.text(row.remaining_ml, Limit.AT_MOST)} left"


def _cartridges(words: WorkWords, works: Iterable[Work]) -> int:
    rows = ((words.shop.product_by_id.get(w.product_id or ""), w.packs) for w in works)
    return sum(packs for row, packs in rows if row is not None and row.supply is Supply.CARTRIDGE)


def _nozzles(words: WorkWords, works: list[Work]) -> Iterable[Pick]:
    count = _cartridges(words, works)
    items = ("Static mixer with nut", "Spray tip") if count else ()
    return [Pick("With the cartridges", item, count, "pieces", str(count), note="one for each cartridge") for item in items]


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
