"""What lies in the warmers when a plan begins: loaded as the latest schedule says, for steps that are still to do."""

from collections.abc import Collection, Iterable, Iterator
from datetime import datetime

from scheduler.record.events import Loaded, Plain
from scheduler.schedule.schedule import Schedule
from scheduler.shop.fixed import Warming
from scheduler.shop.moments import at_site
from scheduler.shop.shop import Shop


def warming_now(
    shop: Shop,
    schedule: Schedule,
    done: Collection[tuple[str, str]],
    begin: datetime,
    events: Iterable[Plain] = (),
) -> tuple[Warming, ...]:
    """Rows of the folder, and of steps whose cartridges should have been loaded before ``begin``.

    Nobody has to report a warmer that was filled: the evening's list said so, and it is taken to have been followed. Who
    loaded at another time, or for another step, says so.

    Parameters
    ----------
    done : collection of (unit_id, step)
        Steps that need no cartridges any more.
    begin : datetime
        When the plan begins.
    """
    rows = {(row.unit_id, row.step): row for row in (*shop.warming, *_told(schedule, begin), *_reported(shop, events, begin))}
    return tuple(row for key, row in rows.items() if key not in done)


def _told(schedule: Schedule, begin: datetime) -> Iterator[Warming]:
    for work in schedule.work:
        loaded = [draw.loaded_at for draw in work.draws if draw.loaded_at is not None]
        if loaded and not work.done and max(loaded) < begin:
            yield Warming(unit_id=work.unit_id, step=work.name, loaded_at=max(loaded))


def _reported(shop: Shop, events: Iterable[Plain], begin: datetime) -> Iterator[Warming]:
    for event in events:
        if isinstance(event, Loaded) and event.happened_at < begin:
            loaded_at = at_site(event.happened_at, shop.site.tz)
            yield Warming(unit_id=event.unit_id, step=event.step, loaded_at=loaded_at)
