"""Draws of named packs for schedules that are made by hand."""

from collections.abc import Iterable
from datetime import datetime
from typing import Any

from scheduler.schedule.schedule import Draw


def new_packs(
    lot_id: str,
    numbers: Iterable[int],
    volume_ml: float,
    *,
    pack_ml: float,
    purge_ml: float = 0.0,
    heel_ml: float = 0.0,
    loaded_at: datetime | None = None,
    warmer_id: str = "W1",
) -> tuple[Draw, ...]:
    """New packs of a lot that are used up one after the other, in slots 1, 2, 3 .. of a warmer if they are loaded."""
    draws, left_ml = [], volume_ml
    for slot, number in enumerate(numbers, start=1):
        sprayed_ml = min(left_ml, pack_ml - purge_ml - heel_ml)
        left_ml -= sprayed_ml
        place: dict[str, Any] = {"warmer_id": warmer_id, "slot": slot, "loaded_at": loaded_at} if loaded_at else {}
        draws.append(
            Draw(
                cartridge_id=f"{lot_id}#{number:03d}",
                lot_id=lot_id,
                begins="opened",
                purge_ml=purge_ml,
                sprayed_ml=sprayed_ml,
                left_ml=pack_ml - purge_ml - sprayed_ml,
                **place,
            )
        )
    return tuple(draws)


def changed(draws: tuple[Draw, ...], which: int = 0, **fields: Any) -> tuple[Draw, ...]:
    """Draws with fields of one of them replaced."""
    return tuple(d.model_copy(update=fields) if k == which else d for k, d in enumerate(draws))


def loaded(draws: tuple[Draw, ...], *moments: datetime) -> tuple[Draw, ...]:
    """Draws that go into the warmer at other times; the last one holds for the rest."""
    return tuple(d.model_copy(update={"loaded_at": moments[min(k, len(moments) - 1)]}) for k, d in enumerate(draws))
