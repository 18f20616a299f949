"""Cartridges of one step in one warmer, in words: which slots, when they go in, from when and for how long they may be out."""

from dataclasses import dataclass
from datetime import datetime

from scheduler.documents.words.pack_names import number_runs, pack_names
from scheduler.documents.words.work_words import WorkWords
from scheduler.material.warmer_list import Loading
from scheduler.schedule.schedule import WarmerLoad, Work


@dataclass(frozen=True, slots=True)
class WarmerRow:
    """One load.

    Attributes
    ----------
    load : WarmerLoad
    work : Work
        The step that sprays them.
    warmer, slots, packs, product : str
    cartridges : int
    loaded, load_clock : str
        When they go in, with and without the day.
    used, use_clock : str
        When the step begins, before which they stay in.
    warm_from : str
        When the last of them is warm; empty where the sheet of the product does not tell how it warms up.
    outside : str
        How long each may lie outside before it is too cold to spray; empty where there is no limit.
    overnight : bool
        Loaded for a later day.
    for_step : str
    """

    load: WarmerLoad
    work: Work
    warmer: str
    slots: str
    packs: str
    product: str
    cartridges: int
    loaded: str
    load_clock: str
    used: str
    use_clock: str
    warm_from: str
    outside: str
    overnight: bool
    for_step: str


def warmer_row(words: WorkWords, load: WarmerLoad, work: Work) -> WarmerRow:
    """One load of a step."""
    time, draws = words.time, [d for d in work.draws if (d.warmer_id, d.loaded_at) == (load.equipment_id, load.loaded_at)]
    together = words.loaded_together.get((work.work_id, load.equipment_id, load.loaded_at), [])
    return WarmerRow(
        load=load,
        work=work,
        warmer=words.tool(load.equipment_id),
        slots=number_runs(draw.slot for draw in draws if draw.slot is not None),
        packs=", ".join(pack_names(draw.cartridge_id for draw in draws)),
        product=words.product(work.product_id) if work.product_id else "",
        cartridges=load.cartridges,
        loaded=time.text(load.loaded_at),
        load_clock=time.clock(load.loaded_at),
        used=time.text(work.start),
        use_clock=time.clock(work.start),
        warm_from=_warm_from(words, together, work.start),
        outside=_outside(together),
        overnight=time.day(load.loaded_at) < time.day(work.start),
        for_step=f"{words.step(work)}, {words.unit(work.unit_id)}",
    )


def _warm_from(words: WorkWords, together: list[Loading], used: datetime) -> str:
    """Latest of the moments; the day is left out where it is that of the step."""
    moments = [row.warm_from for row in together if row.warm_from is not None]
    if not moments or len(moments) < len(together):
        return ""
    last, time = max(moments), words.time
    return time.clock(last) if time.day(last) == time.day(used) else time.text(last)


def _outside(together: list[Loading]) -> str:
    minutes = [row.outside_min for row in together if row.outside_min is not None]
    return f"{min(minutes)} min" if minutes else ""
