"""Why a unit is handed back when it is: its end with the rest of the plan held, alone in the shop, and with each thing eased."""

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.replan.binding import Bind, earliest_end, sooner, what_binds, what_binds_at_all, what_binds_together
from scheduler.replan.extend import UnitPart, part_of
from scheduler.replan.room_around import room_around, rooms_without

MOST_OTHERS = 60


@dataclass(frozen=True, slots=True)
class InTheWay:
    """A unit without which another could be handed back by slot ``end``, sooner than with nobody moved."""

    unit: str
    order: str
    end: int


@dataclass(frozen=True)
class Why:
    """What is found out about one unit; slots are those before which it ends.

    Attributes
    ----------
    now : int
        As planned.
    next_best : int or None
        If it were put in again as early as it goes, all others held.
    alone : int or None
        If it had the shop to itself: what rules, calendar and weather leave of it.
    binds : tuple of Bind
        What eased by itself brings it forward of both, the largest gain first.
    pairs : tuple of Bind
        Pairs that bring it to the day asked for, or forward at all, where nothing does by itself; where no pair does either,
        one larger set.
    binds_alone : tuple of Bind
        What would bring it forward if it had the shop to itself, where even so it is not back by the day asked for.
    in_the_way : tuple of InTheWay
        Units that hold what it would need.
    until : int or None
        Slot before which it was to end, for a day that was asked for.
    proven : bool
        Whether CP-SAT has proven that it cannot be handed back sooner than the better of ``now`` and ``next_best``, all others
        and their people held.
    """

    unit: str
    order: str
    now: int
    next_best: int | None
    alone: int | None
    binds: tuple[Bind, ...]
    pairs: tuple[Bind, ...]
    in_the_way: tuple[InTheWay, ...]
    until: int | None = None
    binds_alone: tuple[Bind, ...] = ()
    proven: bool = False

    @property
    def reaches(self) -> tuple[Bind, ...]:
        """What by itself brings the unit to the day asked for."""
        return tuple(bind for bind in self.binds if self.until is not None and bind.end <= self.until)


def why(net: Network, placed: Placed, unit: str, until: int | None = None) -> Why:
    """Find out what holds a unit up.

    Parameters
    ----------
    net : Network
    placed : Placed
        A whole solution.
    unit : str
        A unit with work left.
    until : int or None
        Slot before which it was to end instead.
    """
    path = next(p for p in net.paths if p.unit == unit)
    part, now = part_of(net, path), placed.start[path.last] + net.activities[path.last].slots
    room = room_around(net, placed, {unit})
    nobody = room_around(net, placed, {p.unit for p in net.paths})
    next_best, alone = earliest_end(room, part), earliest_end(nobody, part)
    best = now if next_best is None else min(now, next_best)
    end, proven = sooner(room, part, best)
    next_best, best = (end, end) if end is not None else (next_best, best)
    binds, wish = what_binds(room, part, best, surely=True), best - 1 if until is None else until
    pairs, binds_alone = tuple[Bind, ...](), tuple[Bind, ...]()
    if until is not None and alone is not None and alone > until:
        binds_alone = what_binds(nobody, part, alone, surely=True)
    elif best > wish and not any(bind.end <= wish for bind in binds):
        pairs = what_binds_together(room, part, wish, binds) or what_binds_at_all(room, part, wish)
    others = _others(net, placed, path, part, wish + 1) if best > wish else ()
    return Why(
        unit=unit,
        order=path.order,
        now=now,
        next_best=next_best,
        alone=alone,
        binds=binds,
        pairs=pairs,
        in_the_way=tuple(sorted(others, key=lambda o: (o.end, o.unit))),
        until=until,
        binds_alone=binds_alone,
        proven=proven,
    )


def _others(net: Network, placed: Placed, path: Path, part: UnitPart, before: int) -> Iterator[InTheWay]:
    """Units that are in before the end of this one, and without which it would end sooner."""
    last, room_without = placed.start[path.last], rooms_without(net, placed, path.unit)
    there = [p for p in net.paths if p is not path and placed.start[p.first] < last]
    there.sort(key=lambda p: abs(placed.start[p.last] - last))
    for other in there[:MOST_OTHERS]:
        end = earliest_end(room_without(other), part, by=before - 1)
        if end is not None:
            yield InTheWay(other.unit, other.order, end)


def latest_unit(net: Network, placed: Placed, order: str) -> str | None:
    """Unit of an order that is handed back last; None if none has work left."""
    paths = [p for p in net.paths if p.order == order]
    return max(paths, key=lambda p: placed.start[p.last]).unit if paths else None
