"""Why a unit is handed back when it is: its end with the rest of the plan held, alone in the shop, and with each thing eased."""

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.replan.binding import Bind, earliest_end, what_binds, what_binds_together
from scheduler.replan.extend import UnitPart, part_of
from scheduler.replan.room import room_around

MOST_OTHERS = 60


@dataclass(frozen=True, slots=True)
class InTheWay:
    """A unit without which another could be handed back by slot ``end``."""

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
        What eased by itself brings it forward, the largest gain first.
    pairs : tuple of Bind
        Pairs that bring it to the day asked for, where nothing does by itself.
    in_the_way : tuple of InTheWay
        Units that hold what it would need.
    until : int or None
        Slot before which it was to end, for a day that was asked for.
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
    wanted = now if until is None else min(until + 1, now)
    binds = what_binds(room, part, now)
    pairs: tuple[Bind, ...] = ()
    if until is not None and not any(bind.end <= until for bind in binds):
        pairs = what_binds_together(room, part, until, binds)
    return Why(
        unit=unit,
        order=path.order,
        now=now,
        next_best=earliest_end(room, part),
        alone=earliest_end(nobody, part),
        binds=binds,
        pairs=pairs,
        in_the_way=tuple(sorted(_others(net, placed, path, part, wanted), key=lambda o: (o.end, o.unit))),
        until=until,
    )


def _others(net: Network, placed: Placed, path: Path, part: UnitPart, before: int) -> Iterator[InTheWay]:
    """Units that are in before the end of this one, and without which it would end sooner."""
    last = placed.start[path.last]
    there = [p for p in net.paths if p is not path and placed.start[p.first] < last]
    there.sort(key=lambda p: abs(placed.start[p.last] - last))
    for other in there[:MOST_OTHERS]:
        end = earliest_end(room_around(net, placed, {path.unit, other.unit}), part, by=before - 1)
        if end is not None:
            yield InTheWay(other.unit, other.order, end)


def latest_unit(net: Network, placed: Placed, order: str) -> str | None:
    """Unit of an order that is handed back last; None if none has work left."""
    paths = [p for p in net.paths if p.order == order]
    return max(paths, key=lambda p: placed.start[p.last]).unit if paths else None
