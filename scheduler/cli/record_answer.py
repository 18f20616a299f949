"""coatrun record: what is said about what was recorded and what was refused."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

import click

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import fault_data, fault_list
from scheduler.cli.talk import say, show, show_json
from scheduler.cli.unit_records import renew_records
from scheduler.record.book import Booked
from scheduler.record.enter import Entry
from scheduler.record.event_words import event_words
from scheduler.record.events import ADAPTER, AnyEvent, Reading
from scheduler.record.events_file import TORN_FILE, Recorded
from scheduler.record.foreign import foreign
from scheduler.record.lock import EVENTS_FILE
from scheduler.record.reading_limits import reading_words
from scheduler.record.standing import fate_of
from scheduler.schedule.schedule import Schedule
from scheduler.shop.faults import Fault
from scheduler.shop.shop import Shop

MOST_NAMES: Final = 5


@dataclass(frozen=True, slots=True)
class RunFolder:
    """The folder of a run with its schedule and shop, and the clock."""

    folder: Path
    shop: Shop
    schedule: Schedule
    now: datetime


def tell_of_file(shop: Shop, recorded: Recorded, *, put_aside: bool) -> None:
    """Say which lines of the events file do not count; ``put_aside`` says that more was written, and where the torn end is."""
    for bad in recorded.bad_lines:
        say(f"coatrun: {bad.text()}.")
    if recorded.torn:
        where = f", put aside into {TORN_FILE}" if put_aside else ""
        cure = "Cure: where --list lacks what it said, record that again"
        say(f"coatrun: {EVENTS_FILE} ends in a torn line of {len(recorded.torn)} bytes, which does not count{where}. {cure}.")
    others = list(foreign(shop, recorded.events))
    if others:
        names, more = list(dict.fromkeys(lacks for _, lacks in others)), ""
        if len(names) > MOST_NAMES:
            names, more = names[:MOST_NAMES], f" and {len(names) - MOST_NAMES} more"
        problem = f"{len(others)} of {len(recorded.events)} events do not count: the shop does not have {', '.join(names)}{more}"
        cure = f"where {EVENTS_FILE} is of another run, put that of this one in its place; else add the rows to the shop folder"
        say(f"coatrun: {EVENTS_FILE}: {problem}. Cure: {cure}.")


def faults_of(entries: tuple[Entry, ...], places: list[int | None], file: Path | None) -> list[Fault]:
    """Objections as faults of the file that was read, else of the report that was typed."""
    return [
        Fault(file.name if file else "report", line, o.place, o.value, o.problem, o.cure)
        for entry, line in zip(entries, places, strict=True)
        for o in entry.objections
    ]


def answer(run: RunFolder, booked: Booked, faults: list[Fault], *, as_json: bool) -> None:
    """Say what was recorded, what was known already and what was refused.

    Raises
    ------
    Exit
        With the code of bad input if anything was refused.
    """
    code = ExitCode.BAD_INPUT if faults else ExitCode.DONE
    new = [e.event for e in booked.entries if e.event is not None and not e.known and not e.objections] if booked.written else []
    known = [e.event for e in booked.entries if e.event is not None and e.known]
    renew_records(run.folder, run.shop, run.schedule, new)
    if as_json:
        lists = {"recorded": new, "known_already": known}
        data = {name: [ADAPTER.dump_python(event, mode="json") for event in events] for name, events in lists.items()}
        show_json("record", code, {"file": str(run.folder / EVENTS_FILE), **data, "faults": fault_data(faults)})
    else:
        _words(run, booked.desk.events, new, known, faults, kept=booked.written)
        for event in new:
            for words in reading_words(booked.desk, event) if isinstance(event, Reading) else ():
                say(words)
    if faults:
        raise click.exceptions.Exit(code.value)


def _since(events: tuple[AnyEvent, ...], event_id: str) -> str:
    """What has become of an event since it was recorded: it may not stand any more."""
    fate = fate_of(events, event_id)
    if fate is None:
        return ""
    what = "withdrawn" if fate.instead is None else "corrected"
    return f". It was {what} since, by {fate.id}; if it is true after all: correct {fate.id} and the event behind it"


def _words(
    run: RunFolder, events: tuple[AnyEvent, ...], new: list[AnyEvent], known: list[AnyEvent], faults: list[Fault], *, kept: bool
) -> None:
    for event in new:
        show(f"recorded {event.id}  {event_words(run.shop, event)}")
    for event in known:
        say(f"known already, not recorded twice: {event.id}  {event_words(run.shop, event)}{_since(events, event.id)}")
    if not new and not known and not faults:
        say("Nothing to record: the plan has nothing more until then that is not recorded.")
    if faults:
        say(fault_list(faults) if faults[0].row is not None else "\n".join(map(_fault_text, faults)))
        say("The good ones are recorded." if kept else "Nothing was recorded.")


def _fault_text(fault: Fault) -> str:
    value = f" '{fault.value}'" if fault.value is not None else ""
    return f"coatrun: {fault.column}{value}: {fault.problem}. Cure: {fault.cure}."
