"""Where the material of a step comes from, in words."""

from collections import Counter

from scheduler.documents.work_words import WorkWords
from scheduler.schedule.schedule import Work


def packs_words(words: WorkWords, work: Work) -> tuple[str, ...]:
    """Lots with their counts of new packs, and packs that stand opened."""
    new = Counter(draw.lot_id for draw in work.draws if draw.begins == "opened")
    standing = (f"opened {draw.cartridge_id}" for draw in work.draws if draw.begins != "opened")
    return *standing, *(f"lot {lot_id}: {words.packs(work.product_id, count)}" for lot_id, count in new.items())
