"""A quote as a command does it; what is heavy is imported only where the room of the schedule is not there yet."""

import time
from dataclasses import replace
from datetime import date, datetime
from typing import Final

from scheduler.cli.durations import at_clock
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.holding import write_hold
from scheduler.cli.quote_lines import counts_of
from scheduler.cli.quote_question import Found, Question
from scheduler.cli.saved import schedule_file
from scheduler.replan.complete import Completed, complete, ruled_out
from scheduler.replan.extend import UnitPart
from scheduler.replan.held_up import held_up
from scheduler.replan.quote import Answer, with_spare
from scheduler.replan.quote_free import into_free
from scheduler.replan.quote_moves import with_moves
from scheduler.replan.room import Room
from scheduler.replan.saved_room import SavedRoom, load_room

ORDER: Final = "quote"
UNHURRIED, PROOF = 4, 0.4
"""How many times more is tried in what is free where others may move as well, which takes a second anyway, and the most of that
which the proof of the day with nothing moved may take."""


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
    free = _nothing_moved(asked, room, parts)
    left_s = max(asked.search_s - (time.perf_counter() - began), asked.search_s * (1.0 - PROOF))
    moving = None if asked.nothing_moved else _with_moves(asked, saved, parts, free.answer, left_s)
    binds = held_up(room, free.answer, moving)
    asked_for = None if asked.arrive is None else at_clock(asked.arrive, zone)
    took_s, here = time.perf_counter() - began, arrive.astimezone(zone)
    return Found(saved, counts, here, free.answer, free.day_proven, moving, binds, asked.spare, took_s, asked_for)


def _nothing_moved(asked: Question, room: Room, parts: list[UnitPart]) -> Completed:
    """Insertion alone where a date in a moment is wanted; else the solver looks for an earlier day, or rules it out."""
    fixed = into_free(room, parts, asked.seed, 1 if asked.nothing_moved else UNHURRIED)
    if asked.nothing_moved:
        return Completed(fixed, ruled_out(room, parts, fixed))
    return complete(room, parts, fixed, asked.seed, asked.search_s * PROOF if asked.moves is None else None)


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


def _with_moves(asked: Question, saved: SavedRoom, parts: list[UnitPart], fixed: Answer | None, left_s: float) -> Answer | None:
    net, placed = saved.network()
    net, _ = with_spare(net, ORDER, asked.spare)
    began = 0.0

    def over(moves: int) -> float:
        nonlocal began
        began = began or time.perf_counter()  # what comes before the first move is no search
        return moves / asked.moves if asked.moves else (time.perf_counter() - began) / left_s

    return with_moves(net, placed, parts, fixed, over, asked.seed)


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
