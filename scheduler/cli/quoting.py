"""A quote as a command does it; what is heavy is imported only where the room of the schedule is not there yet."""

import time
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path
from typing import Final

from scheduler.cli.durations import at_clock
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.holding import write_hold
from scheduler.cli.quote_lines import counts_of
from scheduler.cli.saved import schedule_file
from scheduler.replan.binding import Bind, earliest_end, what_binds
from scheduler.replan.extend import UnitPart, part_of
from scheduler.replan.quote import Answer, into_free, with_moves, with_spare
from scheduler.replan.room import Room, room_around
from scheduler.replan.saved_room import SavedRoom, load_room

ORDER: Final = "quote"
UNHURRIED: Final = 4
"""How many times more is tried in what is free where others may move as well, which takes a second anyway."""


@dataclass(frozen=True)
class Question:
    """What was typed."""

    folder: Path
    lines: tuple[str, ...]
    arrive: datetime | None
    spare: int | None
    told: Path | None
    nothing_moved: bool
    search_s: float
    moves: int | None
    seed: int


@dataclass(frozen=True)
class Found:
    """Answers to a question.

    Attributes
    ----------
    counts : dict of str to int
        Units asked for by the unit that they are like.
    fixed, moving : Answer or None
        With nothing moved, and with moves; None where it does not fit into the plan, or was not asked for.
    binds : tuple of Bind
        What holds up the last unit of the better answer.
    asked_for : datetime or None
        When the units were said to come, which may be before the plan begins.
    """

    saved: SavedRoom
    counts: dict[str, int]
    arrive: datetime
    fixed: Answer | None
    moving: Answer | None
    binds: tuple[Bind, ...]
    spare: int | None
    search_s: float
    asked_for: datetime | None = None

    @property
    def best(self) -> Answer | None:
        """The earlier of the answers."""
        there = [a for a in (self.moving, self.fixed) if a is not None]
        return min(there, key=lambda a: a.last, default=None)


def answer(asked: Question) -> Found:
    """Answer a question from the room of a saved schedule, which is made first if need be.

    Raises
    ------
    Failed
        If there is no schedule, a line names no unit, or the plan is over when the units come.
    """
    saved = _saved(asked)
    counts = counts_of(asked.lines, saved.kinds, saved.names)
    zone, arrive = saved.grid.zone, _arrival(asked, saved)
    net, present = with_spare(saved.room.net, ORDER, asked.spare)
    room = replace(saved.room, net=net)
    parts = _parts(saved, counts, arrive, present)
    began = time.perf_counter()
    fixed = into_free(room, parts, asked.seed, 1 if asked.nothing_moved else UNHURRIED)
    moving = None if asked.nothing_moved else _with_moves(asked, saved, parts, fixed)
    binds = _binds(room, fixed) if moving is None or (fixed and moving.last >= fixed.last) else _binds_among(saved, moving)
    asked_for = None if asked.arrive is None else at_clock(asked.arrive, zone)
    took_s = time.perf_counter() - began
    return Found(saved, counts, arrive.astimezone(zone), fixed, moving, binds, asked.spare, took_s, asked_for)


def _saved(asked: Question) -> SavedRoom:
    file = schedule_file(asked.told or asked.folder)
    if not asked.folder.exists():
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {asked.folder}: there is no such file or folder")
    found = load_room(asked.folder, file)
    if found is not None:
        return found
    from scheduler.cli.keep_room import keep_room

    return keep_room(asked.folder, file)


def _arrival(asked: Question, saved: SavedRoom) -> datetime:
    """When the units are there, no sooner than the plan begins, nor than what was reported last: nobody comes into the past.

    Raises
    ------
    Failed
        If the plan is over by then.
    """
    grid = saved.grid
    begins, ends = grid.start_of(0), grid.end_of(len(grid.real))
    arrive = begins if asked.arrive is None else at_clock(asked.arrive, grid.zone)
    if arrive >= ends:
        last = f"the plan ends on {ends.astimezone(grid.zone):%Y-%m-%d}"
        says = f"coatrun: --arrive {asked.arrive}: {last}; give an earlier day, or set a later plan_until and plan again"
        raise Failed(ExitCode.BAD_INPUT, says)
    return max(arrive, begins, saved.told.until or begins)


def refuse_lapsed(asked: Question, until: date) -> None:
    """Refuse to hold capacity until a day that is over when the plan begins.

    Raises
    ------
    Failed
        If it is.
    """
    grid = _saved(asked).grid
    begins = grid.start_of(0).astimezone(grid.zone).date()
    if until < begins:
        says = f"coatrun: --hold {until}: it would have lapsed before the plan begins on {begins}; give that day or a later one"
        raise Failed(ExitCode.BAD_INPUT, says)


def _parts(saved: SavedRoom, counts: dict[str, int], arrive: datetime, present: tuple[int, ...]) -> list[UnitPart]:
    slot = saved.grid.first_from(arrive)
    return [
        saved.part(unit).named(f"{unit} {n + 1}", ORDER, present).released(slot)
        for unit, count in counts.items()
        for n in range(count)
    ]


def _with_moves(asked: Question, saved: SavedRoom, parts: list[UnitPart], fixed: Answer | None) -> Answer | None:
    net, placed = saved.network()
    net, _ = with_spare(net, ORDER, asked.spare)
    began = time.perf_counter()

    def over(moves: int) -> float:
        return moves / asked.moves if asked.moves else (time.perf_counter() - began) / asked.search_s

    return with_moves(net, placed, parts, fixed, over, asked.seed)


def _binds(room: Room, fixed: Answer | None) -> tuple[Bind, ...]:
    """What holds up the last unit where nothing may move."""
    return () if fixed is None else _binds_of_last(fixed, room)


def _binds_among(saved: SavedRoom, moving: Answer) -> tuple[Bind, ...]:
    """What holds up the last unit among others that have moved."""
    shifts = tuple(worker.free for worker in moving.net.workers)
    return _binds_of_last(moving, Room(moving.net, shifts))


def _binds_of_last(found: Answer, base: Room) -> tuple[Bind, ...]:
    last = max(zip(found.ends, found.units, strict=True))[1]
    around = room_around(found.net, found.placed, {last}, base)
    part = part_of(found.net, next(path for path in found.net.paths if path.unit == last))
    now = earliest_end(around, part)
    return () if now is None else what_binds(around, part, min(now, found.last))


def keep(asked: Question, found: Found, until: date, customer: str) -> str:
    """Keep the capacity of an answer with nothing moved; the name of the hold.

    Raises
    ------
    Failed
        If there is nothing to keep, or the shop is no folder.
    """
    if found.fixed is None:
        says = "coatrun: nothing is held: the units do not fit into what is free; plan them as an order"
        raise Failed(ExitCode.NO_SCHEDULE, says)
    due_at = found.saved.grid.end_of(found.fixed.last).astimezone(found.saved.grid.zone)
    return write_hold(asked.folder, found.counts, found.arrive, due_at, asked.spare, until, customer)
