"""The shop as it stands now: a pure projection of the shop folder, the schedule and what has been recorded since."""

from collections.abc import Iterable
from datetime import datetime

from scheduler.record.availability import arrived_units, closures_now, forecast_now
from scheduler.record.events import AnyEvent, Delivered
from scheduler.record.foreign import known_here
from scheduler.record.history import begin_of, history_now
from scheduler.record.missed_windows import missed_windows
from scheduler.record.progress import progress_of
from scheduler.record.rework_now import rounds_of
from scheduler.record.stock_now import stock_now
from scheduler.record.takes import takes_of
from scheduler.record.warming import warming_now
from scheduler.schedule.schedule import Schedule
from scheduler.shop.shop import Shop


def shop_now(shop: Shop, schedule: Schedule, events: Iterable[AnyEvent], now: datetime) -> Shop:
    """Return the shop as it stands at a moment, ready to be planned again.

    What nobody has reported has not happened: a step that the schedule has before ``now`` and that is not recorded is
    planned again. A step that is under way keeps the end that was planned for it from its real start on; if that has
    passed, it is taken to end at the next moment of the grid. A step that failed is done again or made good, and where it is
    too late for a coat, the surface is wiped or abraded again.

    Parameters
    ----------
    shop : Shop
        The shop folder, from which the first schedule was made; what the planner has changed in it since counts.
    schedule : Schedule
        The latest one.
    events : iterable of AnyEvent
        As recorded. Steps after ``now`` do not count, announcements do; what names things that the shop does not have does not.
    now : datetime
        Aware.

    Returns
    -------
    Shop
        Its ``plan_from`` is ``now``, or what it was if that is later.
    """
    told = shop_told(shop, schedule, events, now)
    late = missed_windows(told)
    return told if not late else told.with_tables(rework=(*told.rework, *late))


def shop_told(shop: Shop, schedule: Schedule, events: Iterable[AnyEvent], now: datetime) -> Shop:
    """Return the shop as it was reported, without a look at the coats for which it is too late; see :func:`shop_now`."""
    stands = known_here(shop, events)
    begin = begin_of(shop, now)
    told = [event for event in stands if event.happened_at <= now]
    progress, rounds = progress_of(stands, now), rounds_of(shop, told, now)
    works = {(work.unit_id, work.name): work for work in schedule.work}
    done = history_now(shop, works, progress, rounds, begin)
    announced = [event for event in stands if isinstance(event, Delivered) and event.happened_at > now]
    lots, opened = stock_now(shop, [*told, *announced], takes_of(told, progress, works))
    finished = {(row.unit_id, row.step) for row in done}
    tables = {
        "site": shop.site.model_copy(update={"plan_from": begin}),
        "units": arrived_units(shop, stands, done),
        "lots": lots,
        "opened": opened,
        "closures": closures_now(shop, stands),
        "weather": forecast_now(shop, told),
        "pinned": tuple(pin for pin in shop.pinned if (pin.unit_id, pin.step) not in finished and pin.start_at >= begin),
        "done": done,
        "rework": tuple(row for rows in rounds.rows.values() for row in rows),
        "warming": warming_now(shop, schedule, finished, begin, told),
    }
    return shop.with_tables(**tables)
