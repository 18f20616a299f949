"""What moves between store and floor each day: cartridges and cans to fetch, to bring back, to throw away.

A pack is fetched on the day on which it goes into a warmer, or is used where nothing is warmed, and counts once that day.
After its last use of a day it goes back recapped, unless it goes into a warmer again that day; an empty one is thrown away,
and so is what has passed its last day.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime

from scheduler.material.pack_lives import PackLife, Use, last_day, local_day, pack_lives
from scheduler.schedule.schedule import Schedule
from scheduler.shop.shop import Shop
from scheduler.shop.stock import Lot


@dataclass(frozen=True, slots=True)
class Fetched:
    """A pack to fetch; ``use`` is what it is for, ``is_new`` whether it has not been opened yet."""

    life: PackLife
    use: Use
    is_new: bool
    content_ml: float


@dataclass(frozen=True, slots=True)
class BroughtBack:
    """A recapped pack that goes back with ``left_ml`` in it."""

    life: PackLife
    left_ml: float


@dataclass(frozen=True, slots=True)
class ThrownAway:
    """A pack that is empty, or has passed its last day with ``left_ml`` in it."""

    life: PackLife
    left_ml: float
    lapsed: bool


@dataclass(slots=True)
class StoreDay:
    """One local day; ``expired`` are unopened packs of lots that have passed their last day."""

    fetch: list[Fetched] = field(default_factory=list)
    back: list[BroughtBack] = field(default_factory=list)
    away: list[ThrownAway] = field(default_factory=list)
    expired: list[tuple[Lot, int]] = field(default_factory=list)


def store_days(shop: Shop, schedule: Schedule) -> dict[date, StoreDay]:
    """Moves of every day of a plan on which there are any."""
    days: dict[date, StoreDay] = defaultdict(StoreDay)
    lives = pack_lives(shop, schedule)
    open_days = _open_days(shop, schedule)
    ends = last_day(shop, schedule)
    for life in lives:
        for n, use in enumerate(life.uses):
            _move(shop, days, life, n, use)
        if not life.is_empty and life.keeps_until < ends:
            days[_day_after(life.keeps_until, open_days)].away.append(ThrownAway(life, life.left_ml, lapsed=True))
    for lot, rest in _never_opened(shop, lives):
        if lot.expires_on < ends:
            days[_day_after(lot.expires_on, open_days)].expired.append((lot, rest))
    return dict(sorted(days.items()))


def _move(shop: Shop, days: dict[date, StoreDay], life: PackLife, n: int, use: Use) -> None:
    """Fetch a pack for a use unless it has stayed on the floor since the one before; take it away after it unless it stays."""
    taken = local_day(shop, taken_at(use))
    if n == 0 or local_day(shop, life.uses[n - 1].work.end) != taken:
        content_ml = use.draw.purge_ml + use.draw.sprayed_ml + use.draw.left_ml
        days[taken].fetch.append(Fetched(life, use, use.draw.begins == "opened", content_ml))
    over = local_day(shop, use.work.end)
    is_last = n + 1 == len(life.uses)
    if is_last and life.is_empty:
        days[over].away.append(ThrownAway(life, life.left_ml, lapsed=False))
    elif is_last or local_day(shop, taken_at(life.uses[n + 1])) != over:
        days[over].back.append(BroughtBack(life, use.draw.left_ml))


def taken_at(use: Use) -> datetime:
    """When a pack leaves the store for a use: to be warmed, or at once."""
    return use.draw.loaded_at or use.work.start


def _open_days(shop: Shop, schedule: Schedule) -> list[date]:
    """Days on which there is work to do, in order."""
    return sorted({local_day(shop, span.start) for work in schedule.work if not work.done for span in work.spans})


def _day_after(last: date, open_days: list[date]) -> date:
    """First day of work after a last day."""
    return next((day for day in open_days if day > last), open_days[-1] if open_days else last)


def _never_opened(shop: Shop, lives: tuple[PackLife, ...]) -> Iterator[tuple[Lot, int]]:
    taken = Counter(life.lot.lot_id for life in lives if life.stood is None)
    for lot in shop.lots:
        rest = lot.packs - taken[lot.lot_id]
        if rest > 0:
            yield lot, rest
