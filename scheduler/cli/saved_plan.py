"""A saved schedule on the network of its shop, for commands that ask questions about it."""

from dataclasses import dataclass
from pathlib import Path

from scheduler.activities.build import Built, build_network
from scheduler.activities.placed import Placed
from scheduler.activities.reread import reread
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.saved import load_schedule, schedule_file
from scheduler.record.events_file import read_events
from scheduler.record.shop_now import shop_now
from scheduler.replan.repair import repair
from scheduler.schedule.schedule import Schedule
from scheduler.shop.holds import read_with_holds, without_lapsed
from scheduler.shop.shop import Shop


@dataclass(frozen=True)
class SavedPlan:
    """A shop as it stood when a schedule was made, and where everything stands; ``broken`` names what no longer could."""

    shop: Shop
    schedule: Schedule
    built: Built
    placed: Placed
    broken: tuple[str, ...]


def saved_plan(folder: Path, told: Path | None) -> SavedPlan:
    """Read a shop and its saved schedule.

    Raises
    ------
    Failed
        If there is no schedule, or what the shop is now no longer takes it.
    BadInputError
        With every fault of the shop folder.
    """
    file = schedule_file(told or folder)
    schedule = load_schedule(file)
    events = read_events(file.parent).events
    shop = without_lapsed(shop_now(read_with_holds(folder), schedule, events, schedule.plan_from))
    built = build_network(shop)
    known = reread(built, schedule)
    found = repair(built.network, known.placed)
    if found is None:
        says = f"coatrun: {file}: the shop has changed so much that its plan cannot be carried out; see coatrun replan"
        raise Failed(ExitCode.NO_SCHEDULE, says)
    return SavedPlan(shop, schedule, built, found.placed, (*known.left_out, *found.fallen))
