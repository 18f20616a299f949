"""What holds a unit up: every relaxation is tried by putting the unit in again, and its end says what it is worth."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations, islice

from scheduler.replan.ease import Ease, same_part
from scheduler.replan.extend import UnitPart
from scheduler.replan.filled import filled, starts_in
from scheduler.replan.relax import eases
from scheduler.replan.room import Room, RoomRoutes
from scheduler.replan.soonest import soonest
from scheduler.search.narrow import narrow

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


def what_binds(room: Room, part: UnitPart, now: int, *, surely: bool = False) -> tuple[Bind, ...]:
    """Relaxations that alone let a unit end before slot ``now``, the one that gains most first.

    With ``surely`` CP-SAT is asked where insertion finds no gain; it may overlook one.
    """
    known, tried = room.routes((part,)), tuple(eases(room, part))
    found = {ease: _tried(room, part, (ease,), now - 1, known) for ease in tried}
    left = [ease for ease in tried if found[ease] is None] if surely else []
    shared = [ease for ease in left if ease.part is same_part]
    overlooked = _overlooked(room, part, now, shared)
    overlooked += [bind for ease in left if ease not in shared for bind in _overlooked(room, part, now, [ease])]
    return _ranked([*found.values(), *overlooked])


def _overlooked(room: Room, part: UnitPart, now: int, tried: Sequence[Ease]) -> list[Bind]:
    """Gains that CP-SAT finds; where all together gain nothing, none of them does, else each half is looked at."""
    if not tried:
        return []
    eased, changed = _eased(room, part, tried)
    end, ended = sooner(eased, changed, now)
    if end is None and ended:
        return []
    if len(tried) == 1:
        return [] if end is None else [Bind(tuple(tried), end)]
    half = len(tried) // 2
    return [*_overlooked(room, part, now, tried[:half]), *_overlooked(room, part, now, tried[half:])]


def _eased(room: Room, part: UnitPart, tried: Iterable[Ease]) -> tuple[Room, UnitPart]:
    for ease in tried:
        room, part = ease.room(room), ease.part(part)
    return room, part


def sooner(room: Room, part: UnitPart, now: int) -> tuple[int | None, bool]:
    """Slot before which CP-SAT lets a unit end, if that is before slot ``now``, and whether there is proof of none before it."""
    net = filled(room, (part,))
    starts = starts_in(room, net, now - 1)
    if not narrow(net, starts):
        return None, True
    placed, ended = soonest(net, starts, 1, None)
    last = net.paths[0].last
    return None if placed is None else placed.start[last] + net.activities[last].slots, ended


def what_binds_together(room: Room, part: UnitPart, until: int, known: Iterable[Bind]) -> tuple[Bind, ...]:
    """Pairs of relaxations with which a unit ends before slot ``until``; those that gain alone are tried first."""
    first = [bind.eases[0] for bind in known]
    names = {(ease.rule, ease.what) for ease in first}
    rest = [ease for ease in eases(room, part) if (ease.rule, ease.what) not in names]
    pairs = islice(combinations([*first, *rest], 2), MOST_PAIRS)
    found = (_tried(room, part, pair, until) for pair in pairs)
    return _ranked(found)


def what_binds_at_all(room: Room, part: UnitPart, until: int) -> tuple[Bind, ...]:
    """One set of relaxations that together let a unit end before slot ``until``, each of them needed; none if all do not."""
    kept = list(eases(room, part))
    best = _tried(room, part, tuple(kept), until)
    for ease in tuple(kept) if best is not None else ():
        fewer = _tried(room, part, tuple(other for other in kept if other is not ease), until)
        if fewer is not None:
            kept.remove(ease)
            best = fewer
    return () if best is None else (best,)


def _tried(room: Room, part: UnitPart, tried: tuple[Ease, ...], by: int, known: RoomRoutes | None = None) -> Bind | None:
    """Put a unit into an eased room, to end by a slot; routes are as they were if only capacities differ."""
    eased, changed = _eased(room, part, tried)
    alike = changed is part and eased.net.workers is room.net.workers and eased.net.sources is room.net.sources
    end = earliest_end(eased, changed, known if alike else None, by)
    return None if end is None else Bind(tried, end)


def _ranked(found: Iterable[Bind | None]) -> tuple[Bind, ...]:
    there = [bind for bind in found if bind is not None]
    return tuple(sorted(there, key=lambda bind: (bind.end, [(e.rule, e.what) for e in bind.eases])))
