"""The shop as it stands now for a re-plan: its folder, what people were told, and what was recorded since."""

from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from scheduler.cli.durations import at_clock
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.saved import load_schedule
from scheduler.cli.talk import say
from scheduler.shop.day_words import moment_text

if TYPE_CHECKING:
    from scheduler.record.events import AnyEvent
    from scheduler.schedule.schedule import Schedule
    from scheduler.shop.shop import Shop


def shop_as_reported(folder: Path, path: Path, asked: datetime | None) -> "tuple[Shop, Schedule]":
    """Read the shop and the schedule that people were told; say what has changed, is damaged or was not reported.

    Parameters
    ----------
    folder : Path
        Of the shop.
    path : Path
        File of the schedule that people were told; the events lie beside it.
    asked : datetime or None
        Moment from which is planned; the clock, or what was reported last, if none is given.

    Raises
    ------
    Failed
        If the plan has ended by then.
    BadInputError
        With every fault of the shop folder.
    """
    from scheduler.cli.made_from import what_changed
    from scheduler.record.events_file import read_events
    from scheduler.record.shop_now import shop_now
    from scheduler.shop.holds import read_with_holds, without_lapsed

    shop, earlier = read_with_holds(folder), load_schedule(path)
    recorded = read_events(path.parent)
    for bad in recorded.bad_lines:
        say(bad.text())
    for line in what_changed(shop, path.parent):
        say(f"Changed since the plan that people were told, {line}")
    now = _now(shop, asked, recorded.events)
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
