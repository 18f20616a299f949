"""What binds: how much of each resource is taken while there is work, and how long it is taken whole.

Counted on whole minutes in which somebody is on shift, from the start of the plan to the end of its last step.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Final

import numpy as np
from numpy.typing import NDArray

from scheduler.documents.charts.loads import Level, Load, air_load, people_load, place_load, warmer_load
from scheduler.documents.words.work_words import WorkWords
from scheduler.shop.working_time import merged, working_stretches

_SHOWN: Final = 8
_NEARLY: Final = 0.95
Minutes = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Binding:
    """How far one resource is used.

    Attributes
    ----------
    name : str
    mean : float
        Mean share in use while it is there.
    full : float
        Share of that time in which at least 95 % is in use.
    """

    name: str
    mean: float
    full: float


def bindings(words: WorkWords) -> tuple[Binding, ...]:
    """Resources that are used most, the one that is longest taken whole first; none for a plan without work."""
    if not words.schedule.work:
        return ()
    start = words.schedule.plan_from
    end = max(start, *(work.end for work in words.schedule.work))
    manned = _manned(words, start, end)
    found = [_binding(name, load, start, manned) for name, load in _loads(words)]
    known = [binding for binding in found if binding is not None and binding.mean > 0]
    return tuple(sorted(known, key=lambda b: (-round(b.full, 3), -b.mean, b.name))[:_SHOWN])


def _loads(words: WorkWords) -> Iterator[tuple[str, Load]]:
    shop, schedule = words.shop, words.schedule
    for bay in shop.bays:
        yield words.bay(bay.bay_id), place_load(shop, schedule, bay)
    for skill in dict.fromkeys(skill for person in shop.crew for skill in person.skills):
        holders = [person for person in shop.crew if skill in person.skills]
        yield f"People who can: {skill.replace('_', ' ')}", people_load(shop, schedule, holders)
    yield "Compressed air", air_load(shop, schedule)
    yield "Warmer slots", warmer_load(shop, schedule)


def _binding(name: str, load: Load, start: datetime, manned: NDArray[np.bool_]) -> Binding | None:
    used, there = (_by_minute(level, start, manned.size) for level in (load.in_use, load.there))
    counts = manned & (there > 0)
    if not counts.any():
        return None
    share = np.minimum(used[counts] / there[counts], 1.0)
    return Binding(name, float(share.mean()), float((share >= _NEARLY).mean()))


def _by_minute(level: Level, start: datetime, minutes: int) -> Minutes:
    """Value of a level in each minute from ``start``."""
    if not level.moments:
        return np.zeros(minutes)
    at = np.array([(moment - start).total_seconds() / 60 for moment in level.moments])
    last = np.searchsorted(at, np.arange(minutes), side="right") - 1
    return np.where(last >= 0, np.array(level.values)[last], 0.0)


def _manned(words: WorkWords, start: datetime, end: datetime) -> NDArray[np.bool_]:
    """Minutes in which a member of the crew is on shift."""
    flags = np.zeros(int((end - start).total_seconds() // 60), dtype=np.bool_)
    for a, b in merged((a, b) for person in words.shop.crew for a, b, _ in working_stretches(words.shop, person)):
        first, last = ((moment - start).total_seconds() / 60 for moment in (a, b))
        flags[max(0, int(first)) : max(0, int(last))] = True
    return flags
