"""What goes back to the store at the end of a day, and what is thrown away."""

from collections import Counter
from collections.abc import Iterator

from scheduler.documents.store.pick import Pick
from scheduler.documents.words.reading_units import Limit
from scheduler.documents.words.work_words import WorkWords
from scheduler.material.store_days import BroughtBack, StoreDay, ThrownAway
from scheduler.shop.day_words import day_and_year_text
from scheduler.shop.product_sheet import Supply

BACK = "Bring back"
AWAY = "Throw away"
_EMPTY_NOTE = "waste by the safety data sheet and local codes"


def store_returns(words: WorkWords, moves: StoreDay) -> Iterator[Pick]:
    """Lines for recapped packs with what is left in them, for empty ones, and for what has passed its last day."""
    for row in sorted(moves.back, key=lambda row: (row.life.product.product_id, row.life.pack)):
        yield _back(words, row)
    empty = Counter(row.life.product.product_id for row in moves.away if not row.lapsed)
    for product_id, count in sorted(empty.items()):
        supply = words.shop.product_by_id[product_id].supply
        noun = "cartridge" if supply is Supply.CARTRIDGE else "can"
        yield Pick(AWAY, words.product(product_id), count, "pieces", str(count), "", f"empty {noun}s; {_EMPTY_NOTE}")
    for gone in moves.away:
        if gone.lapsed:
            yield _lapsed(words, gone)
    for lot, count in moves.expired:
        note = f"unopened, expired {day_and_year_text(lot.expires_on)}; {_EMPTY_NOTE}"
        yield Pick(AWAY, words.product(lot.product_id), count, "pieces", str(count), f"lot {lot.lot_id}", note)


def _back(words: WorkWords, row: BroughtBack) -> Pick:
    left = words.units.volume.text(row.left_ml, Limit.AT_MOST)
    closed = "recapped" if row.life.product.supply is Supply.CARTRIDGE else "closed"
    note = f"{closed}, {left} left, keeps until {day_and_year_text(row.life.keeps_until)}"
    return Pick(BACK, words.product(row.life.product.product_id), 1, "pieces", "1", row.life.pack, note)


def _lapsed(words: WorkWords, row: ThrownAway) -> Pick:
    left = words.units.volume.text(row.left_ml, Limit.AT_MOST)
    note = f"past its last day, {day_and_year_text(row.life.keeps_until)}, with {left} left; {_EMPTY_NOTE}"
    return Pick(AWAY, words.product(row.life.product.product_id), 1, "pieces", "1", row.life.pack, note)
