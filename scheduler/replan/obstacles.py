"""What keeps a step from standing at a given slot, rule by rule, in the shop as it is filled now."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from scheduler.activities.masks import lowest, span
from scheduler.activities.network import Lag, Network, Path, Stay
from scheduler.activities.placed import Placed
from scheduler.search.crew_choice import NOBODY, Worn, slots_by_day, within_respirator
from scheduler.search.presence import one_too_many
from scheduler.search.state import State

YARD = 0


@dataclass(frozen=True, slots=True)
class Obstacle:
    """A rule that forbids it, the step, the slot from which it does, and what is missing: a pool, a person, a bay class."""

    rule: str
    activity: int
    slot: int
    what: str = ""


def lags_into(net: Network) -> list[list[Lag]]:
    """Lags by the activity that waits."""
    into: list[list[Lag]] = [[] for _ in net.activities]
    for lag in net.lags:
        into[lag.then].append(lag)
    return into


def class_at(net: Network, placed: Placed, i: int) -> int:
    """Bay class of an activity in a solution."""
    k = net.activities[i].stay
    return placed.bay_class[k] if k >= 0 else YARD


def of_step(state: State, placed: Placed, i: int, own: Worn = NOBODY) -> Iterator[Obstacle]:
    """Obstacles to one step where ``placed`` has it; the order of a unit's steps and its waits are for :func:`of_waits`.

    ``own`` is what the unit's other steps take of respirator hours by worker and day.
    """
    net, start, bay_class = state.net, placed.start[i], class_at(state.net, placed, i)
    activity = net.activities[i]
    end = start + activity.slots
    yield from _windows(state, i, start, bay_class)
    for demand in activity.demands:
        pool = net.pools[demand.pool]
        clash = state.blocked(demand.pool, demand.amount) & span(start, end + demand.tail) & state.full
        if clash:
            yield Obstacle(pool.rule, i, lowest(clash), pool.key)
    yield from _warm(state, i, start)
    yield from _air(state, i, start, bay_class)
    yield from _people(state, placed, i, own)
    for source, ul in placed.draws[i]:
        row = net.sources[source]
        if state.left_ul[source] < ul or start < row.first or end > row.last:
            yield Obstacle("cartridge_stock", i, start, row.key)


def _windows(state: State, i: int, start: int, bay_class: int) -> Iterator[Obstacle]:
    activity = state.net.activities[i]
    if activity.starts.get(bay_class, 0) >> start & 1:
        return
    found = [rule for rule, table in activity.windows.items() if not table.get(bay_class, 0) >> start & 1]
    yield from (Obstacle(rule, i, start) for rule in found or ["pinned_work"])


def _warm(state: State, i: int, start: int) -> Iterator[Obstacle]:
    activity, warmer = state.net.activities[i], state.net.warmer
    if activity.load is None or warmer is None:
        return
    loaded = activity.load[start]
    held = state.blocked(warmer, activity.packs) & span(max(loaded, 0), start + activity.slots)
    if loaded < 0 or held:
        yield Obstacle("warm_cartridges", i, lowest(held) if held else start, "warmer")


def _air(state: State, i: int, start: int, bay_class: int) -> Iterator[Obstacle]:
    activity, space = state.net.activities[i], state.space_of[bay_class]
    if space < 0:
        return
    end = start + activity.slots
    clash = 0
    if activity.emits_dust:
        clash = state.vapour[space].over(0) & span(start, end)
    elif activity.emits_vapour:
        clear = min(max(end, activity.clears[bay_class][end]), state.net.slots)
        clash = state.dust[space].over(0) & span(start, clear)
    if clash:
        yield Obstacle("air_space", i, lowest(clash), state.spaces[space])


def _people(state: State, placed: Placed, i: int, own: Worn) -> Iterator[Obstacle]:
    activity, start = state.net.activities[i], placed.start[i]
    mask = span(start, start + activity.slots)
    by_day = slots_by_day(state, start, activity.slots) if activity.respirator else {}
    if activity.crew and not placed.crew[i]:  # somebody who was told is not there any more
        yield Obstacle("crew_skills", i, start, activity.crew[0][0])
    for worker, _ in placed.crew[i]:
        row = state.net.workers[worker]
        missing = mask & ~state.hours.free(worker)
        if missing:
            yield Obstacle("crew_skills" if row.is_person else "lifting", i, lowest(missing), row.key)
        elif by_day and not within_respirator(state, worker, by_day, own):
            yield Obstacle("respirator_hours", i, start, row.key)


def of_waits(net: Network, into: Sequence[Sequence[Lag]], placed: Placed, path: Path) -> Iterator[Obstacle]:
    """Obstacles to a unit from the order of its own steps and the waits between them."""
    start, activities = placed.start, net.activities
    for i in range(path.first, path.last + 1):
        if i > path.first and start[i] < start[i - 1] + activities[i - 1].slots:
            yield Obstacle("step_order", i, start[i], activities[i - 1].name)
        for lag in into[i]:
            c, end = class_at(net, placed, lag.first), start[lag.first] + activities[lag.first].slots
            if (c in lag.earliest and start[i] < lag.earliest[c][end]) or (c in lag.latest and start[i] > lag.latest[c][end]):
                yield Obstacle(lag.rule, i, start[i], activities[lag.first].name)


def of_stay(state: State, placed: Placed, k: int) -> Iterator[Obstacle]:
    """Obstacles to a stay: its bay is full or shut."""
    net, stay = state.net, state.net.stays[k]
    clash = span(*stay_span(net, placed, stay)) & state.taken_room(placed.bay_class[k])
    if clash:
        yield Obstacle("bay_places", stay.first, lowest(clash), net.classes[placed.bay_class[k]].key)


def of_presence(state: State, placed: Placed, path: Path) -> Iterator[Obstacle]:
    """Obstacles to a unit's time on the site: the customer cannot spare it, the yard is full."""
    begin = 0 if path.since_start else placed.start[path.first]
    mask = span(begin, placed.start[path.last] + state.net.activities[path.last].slots)
    for pool in path.present:
        if clash := one_too_many(state, path, pool, mask):
            yield Obstacle(state.net.pools[pool].rule, path.first, lowest(clash), state.net.pools[pool].key)


def stay_span(net: Network, placed: Placed, stay: Stay) -> tuple[int, int]:
    """Slots in which a stay takes a place."""
    begin = 0 if stay.since_start else placed.start[stay.first]
    return begin, placed.start[stay.last] + net.activities[stay.last].slots
