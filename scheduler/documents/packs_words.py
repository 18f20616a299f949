"""Where the material of a step comes from, in words."""

from typing import Final

from scheduler.documents.pack_names import pack_names
from scheduler.documents.work_words import WorkWords
from scheduler.schedule.schedule import Draw, Work

BEGINS: Final = {"opened": "opened new", "resumed": "recapped before", "continued": "still on the gun"}
CARTRIDGE_HEADS: Final = ("lot", "begins", "to waste first", "sprayed", "left", "warmer and slot", "loaded", "why it is opened")


def packs_words(work: Work) -> tuple[str, ...]:
    """Packs of a step: first those that stand opened, then the new ones."""
    standing = [draw for draw in work.draws if draw.begins != "opened"]
    new = pack_names(draw.cartridge_id for draw in work.draws if draw.begins == "opened")
    return *(f"{draw.cartridge_id} ({BEGINS[draw.begins]})" for draw in standing), *new


def cartridge_cells(words: WorkWords, draw: Draw) -> tuple[str, ...]:
    """One pack of a step as a row: its name and what ``CARTRIDGE_HEADS`` says."""
    volume = words.units.volume
    return (
        draw.cartridge_id,
        draw.lot_id,
        BEGINS[draw.begins],
        volume.text(draw.purge_ml),
        volume.text(draw.sprayed_ml),
        volume.text(draw.left_ml),
        place_words(draw),
        words.time.text(draw.loaded_at) if draw.loaded_at else "",
        draw.reason,
    )


def place_words(draw: Draw) -> str:
    """Warmer and slot; empty for what is not warmed."""
    return "" if draw.warmer_id is None else f"{draw.warmer_id} slot {draw.slot}"
