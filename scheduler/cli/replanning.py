"""A re-plan as a command does it: read what was told and what has happened, work out the choices, write the one taken."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from scheduler.cli.durations import at_clock
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.no_plan import no_schedule, refused
from scheduler.cli.report_place import place_for_report
from scheduler.cli.saved import SCHEDULE_FILE, load_schedule, note_shop, schedule_file
from scheduler.cli.talk import say
from scheduler.shop.day_words import moment_text

if TYPE_CHECKING:
    from scheduler.pipeline import NoScheduleError
    from scheduler.record.events import AnyEvent
    from scheduler.replan.choices import Replan, Wish
    from scheduler.replan.writing import Choice
    from scheduler.schedule.schedule import Schedule
    from scheduler.search.settings import Settings
    from scheduler.shop.fixed import Rework
    from scheduler.shop.shop import Shop


@dataclass(frozen=True)
class Asked:
    """What was typed."""

    folder: Path
    told: Path | None
    now: datetime | None
    frozen: timedelta | None
    price: float
    take: str | None
    out: Path | None


@dataclass(frozen=True)
class ReplanRun:
    """The choices, what they start from, and where the one taken was written."""

    earlier: "Schedule"
    shop: "Shop"
    replan: "Replan"
    taken: "Choice | None"
    report: Path | None


def run_replan(asked: Asked, settings: "Settings") -> ReplanRun:
    """Read, work the choices out, write the one taken.

    Raises
    ------
    Failed
        If there is nothing to start from, no way to go on, or the frozen period is too long.
    BadInputError
        With every fault of the shop folder.
    """
    path = schedule_file(asked.told or asked.folder)
    if asked.take is not None:
        place_for_report(asked.out or path.parent)
    shop, earlier = _shop_now(asked, path)
    from scheduler.replan.choices import Wish

    until = None if asked.frozen is None else shop.site.plan_from + asked.frozen
    found = _choices(shop, earlier, Wish(settings, until, asked.price))
    taken = next((choice for choice in found.choices if choice.name == asked.take), None)
    if asked.take is not None and taken is None:
        says = f"coatrun: there is no choice '{asked.take}': nothing of the plan told can be kept; take best"
        raise Failed(ExitCode.NO_SCHEDULE, says)
    rework = _with_numbers(found.shop, found.shop.rework[len(shop.rework) :])
    report = _write(taken, earlier, asked, path.parent, rework) if taken is not None else None
    return ReplanRun(earlier, shop, found, taken, report)


def _shop_now(asked: Asked, path: Path) -> "tuple[Shop, Schedule]":
    from scheduler.cli.made_from import what_changed
    from scheduler.record.events_file import read_events
    from scheduler.record.shop_now import shop_now
    from scheduler.shop.holds import read_with_holds, without_lapsed

    shop, earlier = read_with_holds(asked.folder), load_schedule(path)
    recorded = read_events(path.parent)
    for bad in recorded.bad_lines:
        say(bad.text())
    for line in what_changed(shop, path.parent):
        say(f"Changed since the plan that people were told, {line}")
    now = _now(shop, asked.now, recorded.events)
    if now >= shop.site.plan_until:
        says = f"coatrun: the plan ends at {shop.local(shop.site.plan_until):%Y-%m-%d %H:%M}, before now; give a later plan_until"
        raise Failed(ExitCode.BAD_INPUT, says)
    found = without_lapsed(shop_now(shop, earlier, recorded.events, now))
    _say_unreported(found, earlier, path.parent)
    return found, earlier


def _say_unreported(shop: "Shop", earlier: "Schedule", run_folder: Path) -> None:
    """Say what counts as not done because nobody has reported it: a plan that goes on without it may look strange."""
    known, now = {(row.unit_id, row.step) for row in shop.done}, shop.site.plan_from
    over = (work for work in earlier.work if work.end <= now and (work.unit_id, work.name) not in known)
    rows = sorted(over, key=lambda work: work.start)
    if rows:
        steps = "1 step that was" if len(rows) == 1 else f"{len(rows)} steps that were"
        first = f"{rows[0].unit_id}/{rows[0].name} of {moment_text(shop.local(rows[0].start))}"
        cure = f"coatrun record {run_folder} as-planned"
        say(f"Not reported, and so not done: {steps} to be over by now, the first {first}. If it went as planned: {cure}")


def _now(shop: "Shop", asked: datetime | None, events: "tuple[AnyEvent, ...]") -> datetime:
    """The moment given; else the clock if the plan runs, else the last that was recorded, else the start of the plan."""
    if asked is not None:
        return at_clock(asked, shop.site.tz)
    clock = datetime.now(UTC)
    if shop.site.plan_from <= clock < shop.site.plan_until:
        return clock
    return max([shop.site.plan_from, *(event.happened_at for event in events)])


def _choices(shop: "Shop", earlier: "Schedule", wish: "Wish") -> "Replan":
    from scheduler.pipeline import NoScheduleError, RefusedError
    from scheduler.replan.choices import FrozenTooLongError, replan

    try:
        return replan(shop, earlier, wish)
    except FrozenTooLongError as error:
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {error}") from error
    except NoScheduleError as error:
        raise _with_way_out(error, shop) from error
    except RefusedError as error:
        raise refused(error.report) from error


def _with_numbers(shop: "Shop", rows: "tuple[Rework, ...]") -> "tuple[Rework, ...]":
    """Rows as they are named in the plan, whatever comes before them in the table or in the events."""
    told = {(row.unit_id, row.after, row.kind): row for group in shop.rework_of.values() for row in group}
    return tuple(told[row.unit_id, row.after, row.kind] for row in rows)


def _keep_rework(folder: Path, rework: "tuple[Rework, ...]") -> None:
    """Add the rework that the choice rests on to the table of the shop, or ask for it where the shop is a workbook."""
    if not rework:
        return
    from scheduler.shop.fixed import Rework
    from scheduler.shop.read import is_workbook, read_shop
    from scheduler.shop.whole_file import put_file
    from scheduler.shop.write import table_text

    rows = "; ".join(f"{row.unit_id}, {row.kind.value} after {row.after}" for row in rework)
    if is_workbook(folder):
        say(f"Add these rows to the sheet rework, the plan rests on them: {rows}")
        return
    shop = read_shop(folder)
    path = put_file(folder / "rework.csv", table_text(Rework, (*shop.rework, *rework), shop.site.tz))
    say(f"Added to {path}: {rows}")


def _write(taken: "Choice", earlier: "Schedule", asked: Asked, run_folder: Path, rework: "tuple[Rework, ...]") -> Path:
    from scheduler.cli.fresh_room import make_fresh
    from scheduler.cli.handed_out import follow_on, hand_out
    from scheduler.cli.made_from import note_rows
    from scheduler.documents.report.report import write_report
    from scheduler.record.events_file import read_events
    from scheduler.shop.holds import read_with_holds

    out = asked.out or run_folder
    write_report(taken.plan.shop, taken.plan.schedule, taken.plan.report, out, earlier, read_events(run_folder).events)
    note_shop(out.absolute(), asked.folder)
    _keep_rework(asked.folder, rework)
    note_rows(read_with_holds(asked.folder), out.absolute())
    follow_on(run_folder, out)
    make_fresh(asked.folder, out.absolute() / SCHEDULE_FILE)
    hand_out(taken.plan.shop, taken.plan.schedule, taken.plan.report, earlier, out.absolute())
    return out


def _with_way_out(error: "NoScheduleError", shop: "Shop") -> Failed:
    from scheduler.cli.way_out_text import with_way_out

    return with_way_out(no_schedule(error.outcome), shop)
