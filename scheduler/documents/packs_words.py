"""Where the material of a step comes from, in words."""

from scheduler.documents.work_words import WorkWords
from scheduler.schedule.schedule import Work


def packs_words(words: WorkWords, work: Work) -> tuple[str, ...]:
    """Lots with their counts of packs, and opened packs."""
    return tuple(
        f"opened {draw.source_id}"
        if draw.source == "opened"
        else f"lot {draw.source_id}: {words.packs(work.product_id, draw.packs)}"
        for draw in work.draws
    )
