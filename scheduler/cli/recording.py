"""coatrun record: from the typed words to the events file, and what is said about it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.fresh_room import room_kept_fresh
from scheduler.cli.record_answer import RunFolder, answer, faults_of, tell_of_file
from scheduler.cli.record_file import reports_of
from scheduler.cli.record_state import list_text, state_data, state_text
from scheduler.cli.saved import load_schedule, schedule_file, shop_folder_of
from scheduler.cli.talk import show, show_json
from scheduler.record.as_planned import as_planned
from scheduler.record.book import Making, book, open_desk
from scheduler.record.correcting import correction
from scheduler.record.event_of_report import event_of
from scheduler.record.events import ADAPTER, AnyEvent
from scheduler.record.lock import EVENTS_FILE, LockedError
from scheduler.record.report import FORMS, Report
from scheduler.record.typed_moment import typed_moment
from scheduler.shop.day_words import moment_text
from scheduler.shop.faults import choose
from scheduler.shop.holds import read_with_holds
from scheduler.shop.shop import Shop


@dataclass(frozen=True, slots=True)
class Typed:
    """The command as it was typed."""

    words: tuple[str, ...]
    said: Mapping[str, str]
    besides: tuple[str, ...] = ()
    withdraw: bool = False
    from_file: Path | None = None
    keep_good: bool = False
    listing: bool = False
    now: str | None = None


def record_typed(place: Path, shop_folder: Path | None, typed: Typed, *, as_json: bool) -> None:
    """Record what was typed, or show the state.

    Raises
    ------
    Failed
        If there is nothing to record in, or a report is refused.
    BadInputError
        With every fault of the shop folder or of a file of reports.
    """
    path = schedule_file(place)
    folder = shop_folder or shop_folder_of(path)
    shop = read_with_holds(folder)
    run = RunFolder(path.parent, shop, load_schedule(path), _now(typed.now, shop))
    if not typed.words and typed.from_file is None:
        _show(run, typed, as_json=as_json)
        return
    with room_kept_fresh(folder, path):
        _record(run, typed, as_json=as_json)


def _now(text: str | None, shop: Shop) -> datetime:
    clock = datetime.now(UTC).replace(second=0, microsecond=0).astimezone(shop.site.tz)
    if text is None:
        return clock
    try:
        return typed_moment(text, clock, shop.site.tz)
    except ValueError as error:
        problem, _, cure = str(error).partition("; ")
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: --now '{text}': {problem}. Cure: {cure}.") from error


def _show(run: RunFolder, typed: Typed, *, as_json: bool) -> None:
    if typed.said or typed.besides or typed.withdraw:
        raise Failed(
            ExitCode.BAD_INPUT, f"coatrun: nothing says what happened; write one of {', '.join(FORMS)}, as-planned or correct"
        )
    desk, recorded = open_desk(run.folder, run.shop, run.schedule, run.now)
    tell_of_file(run.shop, recorded, put_aside=False)
    if as_json:
        events = [ADAPTER.dump_python(event, mode="json") for event in recorded.events]
        show_json(
            "record", ExitCode.DONE, {"file": str(run.folder / EVENTS_FILE), "events": events, **state_data(desk, recorded)}
        )
    else:
        show(list_text(desk) if typed.listing else state_text(desk))


def _record(run: RunFolder, typed: Typed, *, as_json: bool) -> None:
    places: list[int | None] = [None]
    if typed.from_file is not None:
        rows = reports_of(typed.from_file, typed.words)
        places, makings = [line for line, _ in rows], [_telling(report) for _, report in rows]
    else:
        makings = _makings(run, typed)
        places = [None] * len(makings)
    try:
        booked = book(run.folder, run.shop, run.schedule, run.now, makings, keep_good=typed.keep_good)
    except LockedError as error:
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {error}") from error
    tell_of_file(run.shop, booked.file, put_aside=booked.written)
    faults = list(faults_of(booked.entries, places, typed.from_file))
    answer(run, booked, faults, as_json=as_json)


def _telling(report: Report) -> Making:
    return lambda desk: event_of(desk, report)


def _makings(run: RunFolder, typed: Typed) -> list[Making]:
    """What is to be recorded: a report, a correction, or all that went as planned."""
    what, about = typed.words[0], " ".join(typed.words[1:])
    if what == "as-planned":
        return _as_planned(run, typed)
    if what == "correct":
        return [_correcting(typed)]
    if what not in FORMS:
        known = (*FORMS, "as-planned", "correct")
        raise Failed(
            ExitCode.BAD_INPUT, f"coatrun: '{what}': not a word that is known here. Cure: {choose(what, known, 'see --help')}."
        )
    return [_telling(Report(what, about, typed.said))]


def _correcting(typed: Typed) -> Making:
    if len(typed.words) < 2:
        raise Failed(ExitCode.BAD_INPUT, "coatrun: correct needs the id of an event; see --list")
    event_id, rest = typed.words[1], typed.words[2:]
    instead = Report(rest[0], " ".join(rest[1:]), typed.said) if rest else None
    return lambda desk: correction(desk, event_id, instead, typed.said, withdraw=typed.withdraw)


def _as_planned(run: RunFolder, typed: Typed) -> list[Making]:
    wrong = sorted(typed.said.keys() - {"until", "by", "note"})
    if wrong or len(typed.words) > 1:
        raise Failed(ExitCode.BAD_INPUT, "coatrun: as-planned takes --until and --except only")
    until = _now(typed.said.get("until"), run.shop) if "until" in typed.said else run.now
    if until > run.now:
        raise Failed(
            ExitCode.BAD_INPUT, f"coatrun: --until {moment_text(until)} lies in the future; nothing of it has happened yet"
        )
    desk, _ = open_desk(run.folder, run.shop, run.schedule, run.now)
    return [_as_made(event) for event in as_planned(desk, until, frozenset(typed.besides), typed.said.get("by", ""))]


def _as_made(event: AnyEvent) -> Making:
    return lambda _desk: event
