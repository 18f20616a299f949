"""What holds a unit up: every relaxation is tried by putting the unit in again, and its end says what it is worth."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations, islice

from scheduler.replan.ease import Ease
from scheduler.replan.extend import UnitPart
from scheduler.replan.relax import eases
from scheduler.replan.room import Room, RoomRoutes

MOST_PAIRS = 120


@dataclass(frozen=True, slots=True)
class Bind:
    """Relaxations that together let a unit end at slot ``end``."""

    eases: tuple[Ease, ...]
    end: int


def earliest_end(room: Room, part: UnitPart, known: RoomRoutes | None = None, by: int | None = None) -> int | None:
    """Slot before which a unit ends if it goes into a room as early as it can; None where it does not, or not ``by`` a slot."""
    inserter = room.inserter((part,), known)
    (path,) = inserter.net.paths
    if not inserter.insert(path, by):
        return None
    return inserter.state.start[path.last] + inserter.net.activities[path.last].slots


def what_binds(room: Room, part: UnitPart, now: int) -> tuple[Bind, ...]:
    """Relaxations that alone let a unit end before slot ``now``, the one that gains most first."""
    known = room.routes((part,))
    return _ranked(_tried(room, part, (ease,), now - 1, known) for ease in eases(room, part))


def what_binds_together(room: Room, part: UnitPart, until: int, known: Iterable[Bind]) -> tuple[Bind, ...]:
    """Pairs of relaxations with which a unit ends before slot ``until``; those that gain alone are tried first."""
    first = [bind.eases[0] for bind in known]
    names = {(ease.rule, ease.what) for ease in first}
    rest = [ease for ease in eases(room, part) if (ease.rule, ease.what) not in names]
    pairs = islice(combinations([*first, *rest], 2), MOST_PAIRS)
    found = (_tried(room, part, pair, until) for pair in pairs)
    return _ranked(found)


def _tried(room: Room, part: UnitPart, tried: tuple[Ease, ...], by: int, known: RoomRoutes | None = None) -> Bind | None:
    """Put a unit into an eased room, to end by a slot; routes are as they were if only capacities differ."""
    eased, changed = room, part
    for ease in tried:
        eased, changed = ease.room(eased), ease.part(changed)
    alike = changed is part and eased.net.workers is room.net.workers and eased.net.sources is room.net.sources
    end = earliest_end(eased, changed, known if alike else None, by)
    return None if end is None else Bind(tried, end)


def _ranked(found: Iterable[Bind | None]) -> tuple[Bind, ...]:
    there = [bind for bind in found if bind is not None]
    return tuple(sorted(there, key=lambda bind: (bind.end, [(e.rule, e.what) for e in bind.eases])))
