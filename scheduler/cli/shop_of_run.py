"""The shop that a saved schedule is to be read with: as it is, without later holds, or as it stood when it was planned again."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from scheduler.cli.saved import shop_folder_of

if TYPE_CHECKING:
    from scheduler.schedule.schedule import Schedule
    from scheduler.shop.shop import Shop


def shop_of_run(path: Path, schedule: "Schedule", given: Path | None = None) -> "tuple[Shop, bool]":
    """Find the shop of a schedule by the fingerprint of its input.

    A schedule that was planned again has history in it, which the tables do not know: the records beside it do.

    Parameters
    ----------
    path : Path
        File of the schedule.
    schedule : Schedule
    given : Path or None
        Shop folder or workbook; the one that the run names if not given.

    Returns
    -------
    (Shop, bool)
        The shop, and whether the schedule was made from exactly this input. If it was not, the shop is the one that comes
        nearest: with the records where there is history in the schedule.

    Raises
    ------
    Failed
        If nothing says where the shop is.
    BadInputError
        With all faults of the shop.
    """
    from scheduler.shop.input_hash import input_hash

    shops = list(_shops(path, schedule, given or shop_folder_of(path)))
    made_from = next((shop for shop in shops if input_hash(shop) == schedule.provenance.input_hash), None)
    if made_from is not None:
        return made_from, True
    return shops[-1 if any(work.done for work in schedule.work) else 0], False


def _shops(path: Path, schedule: "Schedule", folder: Path) -> "Iterator[Shop]":
    from scheduler.record.events_file import read_events
    from scheduler.record.shop_now import shop_now
    from scheduler.shop.holds import with_holds, without_lapsed
    from scheduler.shop.read import read_shop

    plain = read_shop(folder)
    held = with_holds(plain)
    yield held
    yield plain.with_tables(holds=())
    events = read_events(path.parent).events
    if events:
        yield without_lapsed(shop_now(held, schedule, events, schedule.plan_from))
