"""Work out the room of a saved schedule and keep it beside it: heavy, and done once."""

from pathlib import Path

from scheduler.cli.failed import Failed
from scheduler.cli.no_plan import no_schedule
from scheduler.cli.saved import load_schedule
from scheduler.pipeline import NoScheduleError
from scheduler.record.events_file import read_events
from scheduler.record.shop_now import shop_now
from scheduler.replan.make_room import make_room
from scheduler.replan.saved_room import SavedRoom, basis_of
from scheduler.shop.holds import read_with_holds, without_lapsed


def keep_room(folder: Path, file: Path) -> SavedRoom:
    """Read the shop as it stood when the schedule was made, and keep the room that the schedule leaves.

    Raises
    ------
    Failed
        If the schedule cannot be read, or not everything of the shop finds a place.
    BadInputError
        With every fault of the shop folder.
    """
    schedule = load_schedule(file)
    basis = basis_of(folder, file, schedule.plan_from)
    shop = shop_now(read_with_holds(folder), schedule, read_events(file.parent).events, schedule.plan_from)
    try:
        return make_room(without_lapsed(shop), schedule, basis, file.parent)
    except NoScheduleError as error:
        raise _no_room(no_schedule(error.outcome)) from error


def _no_room(failed: Failed) -> Failed:
    says = f"Not everything in the shop finds a place, so nothing can be promised.\n{failed.says}"
    return Failed(failed.code, says, failed.data)
