"""Whether reports can be recorded: in the future, twice, contradicting what is recorded, more than a pack holds."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from scheduler.record.clashes import clashes
from scheduler.record.desk import Desk
from scheduler.record.events import AnyEvent, Arrived, Away, Correction, Delivered, Doing, Down, OfStep, Used
from scheduler.record.foreign import is_foreign
from scheduler.record.log import of_pack
from scheduler.record.places import wrong_place
from scheduler.record.report import Objection
from scheduler.record.wrong_correction import wrong_correction
from scheduler.record.wrong_pack import beyond_lot, overdrawn
from scheduler.shop.day_words import day_and_year_text, moment_text

ANNOUNCED = (Arrived, Away, Down)
"""Kinds of events that may lie ahead."""


@dataclass(frozen=True, slots=True)
class Entry:
    """What becomes of one report: recorded as an event, known already, or refused."""

    event: AnyEvent | None = None
    known: bool = False
    objections: tuple[Objection, ...] = ()


def admit(desk: Desk, event: AnyEvent) -> Entry:
    """Say whether an event can be recorded at a desk."""
    if desk.log.knows(event):
        return Entry(event, known=True)
    wrong = tuple(_objections(desk, event))
    return Entry(event, objections=wrong)


def _objections(desk: Desk, event: AnyEvent) -> Iterator[Objection]:
    wrong = list(_by_itself(desk, event))
    yield from wrong
    if not wrong:
        yield from _against_the_rest(desk, event)


def _by_itself(desk: Desk, event: AnyEvent) -> Iterator[Objection]:
    told = event.instead if isinstance(event, Correction) else event
    if isinstance(event, Correction) and (wrong := wrong_correction(desk, event)) is not None:
        yield wrong
    if told is None:
        return
    lacks = is_foreign(desk.shop, told)
    if lacks is not None:
        what, _, which = lacks.rpartition(" ")
        yield Objection(what, which, "the shop does not have it", "correct the name, or use the events of this shop")
        return
    when = _with_year(desk.shop.local(told.happened_at))
    if isinstance(told, Delivered) and told.happened_at > desk.now and _is_on_the_list(desk, told):
        problem = "is listed already, and this is still to come"
        yield Objection("lot", told.lot_id, problem, f"give what comes then a lot of its own, such as {told.lot_id}-b")
    elif told.happened_at > desk.now and not isinstance(told, (*ANNOUNCED, Delivered)):
        problem = f"lies in the future, it is {moment_text(desk.shop.local(desk.now))}"
        yield Objection("--at", when, problem, "correct the time; record it once it has happened")
    if isinstance(told, Away | Down) and told.until <= told.happened_at:
        problem = f"ends before it begins, at {when}"
        yield Objection(
            "--until",
            _with_year(desk.shop.local(told.until)),
            problem,
            "correct one of the two times",
        )
    if told.happened_at < desk.shop.site.plan_from and not isinstance(told, ANNOUNCED):
        problem = f"lies before the plan begins, {_with_year(desk.shop.site.plan_from)}"
        yield Objection("--at", when, problem, "correct the time, or put what happened before into the table done")


def _against_the_rest(desk: Desk, event: AnyEvent) -> Iterator[Objection]:
    """What an event makes wrong that was not wrong without it."""
    after = desk.with_event(event)
    for unit_id in sorted(_units(desk, event)):
        before = set(clashes(desk.outset, unit_id, desk.steps_told(unit_id)))
        yield from (w for w in clashes(desk.outset, unit_id, after.steps_told(unit_id)) if w not in before)
    told = event.instead if isinstance(event, Correction) else event
    if isinstance(told, Doing):
        yield from wrong_place(desk, after, told)
    if isinstance(told, Used):
        yield from overdrawn(after.shop, after.log.stands.get(of_pack(told.cartridge_id), ()))
        yield from beyond_lot(desk, told)


def _units(desk: Desk, event: AnyEvent) -> set[str]:
    """Units whose steps an event is about."""
    rows: list[AnyEvent | None] = [event]
    if isinstance(event, Correction):
        rows = [event.instead, next((row for row in desk.stands if row.id == event.corrects), None)]
    return {row.unit_id for row in rows if isinstance(row, OfStep) and row.unit_id in desk.shop.unit_by_id}


def _is_on_the_list(desk: Desk, told: Delivered) -> bool:
    """Whether a lot is known before a delivery of it is announced."""
    earlier = (event for event in desk.log.stands.get(told.kind, ()) if isinstance(event, Delivered))
    return told.lot_id in {*(lot.lot_id for lot in desk.shop.lots), *(event.lot_id for event in earlier)}


def _with_year(moment: datetime) -> str:
    return f"{day_and_year_text(moment)} {moment:%H:%M}"
