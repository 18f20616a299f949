"""Where the material of a step comes from, in words."""

from typing import Final

from scheduler.documents.words.pack_names import pack_names
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.schedule import Draw, Work

BEGINS: Final = {"opened": "new", "resumed": "recapped", "continued": "on the gun"}
CARTRIDGE_HEADS: Final = ("lot", "begins", "to waste first", "sprayed", "left", "warmer and slot", "loaded", "why it is opened")


def packs_words(work: Work) -> tuple[str, ...]:
    """Packs of a step: those still on the gun, those that were recapped, then the new ones."""
    kinds = {
        kind: [draw.cartridge_id for draw in work.draws if draw.begins == kind] for kind in ("continued", "resumed", "opened")
    }
    named = {kind: ", ".join(pack_names(ids)) for kind, ids in kinds.items() if ids}
    return tuple(f"{BEGINS[kind]}: {names}" for kind, names in named.items())


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
