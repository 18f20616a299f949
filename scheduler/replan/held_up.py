"""What holds the last unit of a quote up, where nothing may move or among others that have moved."""

from scheduler.replan.binding import Bind, earliest_end, what_binds
from scheduler.replan.extend import part_of
from scheduler.replan.quote import Answer
from scheduler.replan.room import Room
from scheduler.replan.room_around import room_around


def held_up(room: Room, fixed: Answer | None, moving: Answer | None) -> tuple[Bind, ...]:
    """What holds up the last unit of the earlier answer; nothing where there is none.

    Parameters
    ----------
    room : Room
        Into which the units of ``fixed`` were put.
    fixed, moving : Answer or None
        With nothing moved, and with all units of the shop in its network.
    """
    if moving is not None and (fixed is None or moving.last < fixed.last):
        return _binds(moving, Room(moving.net, tuple(worker.free for worker in moving.net.workers)))
    return () if fixed is None else _binds(fixed, room)


def _binds(found: Answer, base: Room) -> tuple[Bind, ...]:
    last = max(zip(found.ends, found.units, strict=True))[1]
    around = room_around(found.net, found.placed, {last}, base)
    part = part_of(found.net, next(path for path in found.net.paths if path.unit == last))
    now = earliest_end(around, part)
    return () if now is None else what_binds(around, part, min(now, found.last))
