"""A re-plan as a command does it: read what was told and what has happened, work out the choices, write the one taken."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.no_plan import no_schedule, refused
from scheduler.cli.report_place import place_for_report
from scheduler.cli.saved import schedule_file
from scheduler.cli.shop_as_reported import shop_as_reported
from scheduler.cli.taken import with_numbers, write_taken

if TYPE_CHECKING:
    from scheduler.pipeline import NoScheduleError
    from scheduler.replan.choices import Replan, Wish
    from scheduler.replan.writing import Choice
    from scheduler.schedule.schedule import Schedule
    from scheduler.search.settings import Settings
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
    shop, earlier = shop_as_reported(asked.folder, path, asked.now)
    from scheduler.replan.choices import Wish

    until = None if asked.frozen is None else shop.site.plan_from + asked.frozen
    found = _choices(shop, earlier, Wish(settings, until, asked.price))
    taken = next((choice for choice in found.choices if choice.name == asked.take), None)
    if asked.take is not None and taken is None:
        says = f"coatrun: there is no choice '{asked.take}': nothing of the plan told can be kept; take best"
        raise Failed(ExitCode.NO_SCHEDULE, says)
    if taken is None:
        return ReplanRun(earlier, shop, found, None, None)
    out = asked.out or path.parent
    write_taken(taken, earlier, asked.folder, path.parent, out, with_numbers(found.shop, found.shop.rework[len(shop.rework) :]))
    return ReplanRun(earlier, shop, found, taken, out)


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


def _with_way_out(error: "NoScheduleError", shop: "Shop") -> Failed:
    from scheduler.cli.way_out_text import with_way_out

    return with_way_out(no_schedule(error.outcome), shop)
