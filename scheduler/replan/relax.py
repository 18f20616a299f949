"""One rule, resource or date at a time made easier for a unit, to see which of them holds it up and by how much."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from scheduler.activities.network import Activity, Network, Worker, meet
from scheduler.replan.extend import UnitPart
from scheduler.replan.room import Room
from scheduler.replan.seen_ahead import unseen
from scheduler.replan.used import NONE_USED

EASED_WINDOWS = ("weather_window", "release")
WITHOUT_MINIMUM = ("recoat_window", "flash_off", "dry_to_handle", "return_to_service")
PLENTY = 10**12


@dataclass(frozen=True)
class Ease:
    """A relaxation.

    Attributes
    ----------
    rule : str
        Rule that is eased.
    what : str
        Resource that there is one more of; empty where a rule does not count.
    says : str
        For a person: what would be different.
    """

    rule: str
    what: str
    says: str
    room: Callable[[Room], Room]
    part: Callable[[UnitPart], UnitPart]


def eases(room: Room, part: UnitPart) -> Iterator[Ease]:
    """Yield every relaxation that could matter to a unit."""
    yield from _more_of_pools(room, part)
    yield from _more_bays(room, part)
    yield from _more_people(room.net, part)
    for rule in EASED_WINDOWS:
        yield Ease(rule, "", _WINDOW_WORDS[rule], _same_room, lambda p, r=rule: _without_window(p, r))  # type: ignore[misc]
    for rule in sorted({lag.rule for lag in part.lags} & set(WITHOUT_MINIMUM)):
        yield Ease(rule, "", f"no waiting for {rule.replace('_', ' ')}", _same_room, lambda p, r=rule: _no_minimum(p, r))  # type: ignore[misc]
    if any(lag.latest for lag in part.lags):
        yield Ease("hold_time", "", "no longest wait between its steps", _same_room, _no_maximum)
    if any(a.product for a in part.activities):
        yield Ease("cartridge_stock", "", "all material in stock from the start", _plenty, lambda p: p)
    if any(a.respirator for a in part.activities):
        yield Ease("respirator_hours", "", "no limit of hours under a respirator", _no_limit, lambda p: p)
    if any(a.emits_dust or a.emits_vapour for a in part.activities):
        yield Ease("air_space", "", "bays that do not share their air", _own_air, lambda p: p)


_WINDOW_WORDS = {"weather_window": "weather that always allows the work", "release": "the unit here from the start"}


def _same_room(room: Room) -> Room:
    return room


def _with(room: Room, **changes: object) -> Room:
    return replace(room, net=replace(room.net, **changes))  # type: ignore[arg-type]


def _more_of_pools(room: Room, part: UnitPart) -> Iterator[Ease]:
    net, most = room.net, dict[int, int]()
    for activity in part.activities:
        for demand in activity.demands:
            most[demand.pool] = max(most.get(demand.pool, 0), demand.amount)
        if activity.load is not None and net.warmer is not None:
            most[net.warmer] = max(most.get(net.warmer, 0), activity.packs)
    most |= dict.fromkeys(part.path.present, 1)
    for at, amount in sorted(most.items()):
        if room.pools.get(at, NONE_USED).peak + 2 * amount <= net.pools[at].capacity:
            continue  # never short, not even if two steps of the unit overlap
        yield Ease(net.pools[at].rule, net.pools[at].key, _pool_words(net, at, amount), _raising(at, amount), lambda p: p)


def _pool_words(net: Network, at: int, amount: int) -> str:
    pool = net.pools[at]
    if pool.rule == "units_away":
        return f"{pool.capacity + 1} units away at once instead of {pool.capacity}"
    if pool.key.startswith("air"):
        return f"{amount / 10:g} L/s of air more ({pool.key.removeprefix('air ')})"
    if pool.key == "warmer":
        return f"{amount} warmer slots more than the {pool.capacity} there are"
    if pool.key == "yard":
        return f"one place in the yard more than the {pool.capacity} there are"
    return f"one {pool.key} more than the {pool.capacity} there are"


def _raising(at: int, amount: int) -> Callable[[Room], Room]:
    def raised(room: Room) -> Room:
        pools = list(room.net.pools)
        pools[at] = replace(pools[at], capacity=pools[at].capacity + amount)
        return _with(room, pools=tuple(pools))

    return raised


def _more_bays(room: Room, part: UnitPart) -> Iterator[Ease]:
    net = room.net
    for c in sorted({c for stay in part.stays for c in stay.classes}):
        group = net.classes[c]
        if room.bays.get(c, NONE_USED).peak < group.places and group.free.bit_count() == net.slots:
            continue
        says = f"one place more in {' or '.join(group.bays)} than the {group.places} there are"

        def raised(room: Room, c: int = c) -> Room:
            classes = list(room.net.classes)
            classes[c] = replace(classes[c], places=classes[c].places + 1)
            return _with(room, classes=tuple(classes))

        yield Ease("bay_places", "+".join(group.bays), says, raised, lambda p: p)


def _more_people(net: Network, part: UnitPart) -> Iterator[Ease]:
    for skill in sorted({skill for a in part.activities for skill, _ in a.crew}):
        able = [worker for worker in net.workers if skill in worker.skills]
        more = max((count for a in part.activities for name, count in a.crew if name == skill), default=1)
        is_person = any(worker.is_person for worker in able)
        noun = skill if is_person else f"gear for {skill}"
        says = f"{more} more {noun} than the {len(able)} there {'is' if len(able) == 1 else 'are'}"
        yield Ease("crew_skills" if is_person else "lifting", skill, says, _joined_by(skill, more), lambda p: p)


def _joined_by(skill: str, more: int) -> Callable[[Room], Room]:
    def joined(room: Room) -> Room:
        able = [n for n, worker in enumerate(room.net.workers) if skill in worker.skills]
        there = 0
        for n in able:
            there |= room.shifts[n]
        is_person = not able or room.net.workers[able[0]].is_person
        extra = [Worker(f"one more {skill} {n}", frozenset({skill}), there, is_person) for n in range(more)]
        return _with(room, workers=(*room.net.workers, *extra))

    return joined


def _each(part: UnitPart, change: Callable[[Activity], Activity]) -> UnitPart:
    return replace(part, activities=tuple(change(a) for a in part.activities))


def _without_window(part: UnitPart, rule: str) -> UnitPart:
    def opened(activity: Activity) -> Activity:
        everything = dict.fromkeys(activity.windows[rule], -1)
        windows = {**activity.windows, rule: everything}
        return replace(activity, windows=windows, starts=meet(windows))

    return _each(part, opened)


def _no_minimum(part: UnitPart, rule: str) -> UnitPart:
    return replace(unseen(part), lags=tuple(replace(lag, earliest={}) if lag.rule == rule else lag for lag in part.lags))


def _no_maximum(part: UnitPart) -> UnitPart:
    return replace(unseen(part), lags=tuple(replace(lag, latest={}) for lag in part.lags))


def _plenty(room: Room) -> Room:
    sources = tuple(replace(s, gives_ul=PLENTY, first=0, last=room.net.slots) for s in room.net.sources)
    return _with(room, sources=sources)


def _no_limit(room: Room) -> Room:
    return _with(room, workers=tuple(replace(w, respirator_slots=None) for w in room.net.workers))


def _own_air(room: Room) -> Room:
    return replace(room, dust={}, vapour={})
