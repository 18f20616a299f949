"""More of what a unit shares with others: one place, one machine, one person or some air more than there is."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Final

from scheduler.activities.network import Network, Worker
from scheduler.replan.ease import Ease, changed, same_part
from scheduler.replan.extend import UnitPart
from scheduler.replan.room import Room
from scheduler.replan.used import NONE_USED

MOST_NAMED: Final = 4


def more_of_pools(room: Room, part: UnitPart) -> Iterator[Ease]:
    """Yield one use more of each pool that may be short, by the most that the unit takes of it."""
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
        yield Ease(net.pools[at].rule, net.pools[at].key, _pool_words(net, at, amount), _raising(at, amount), same_part)


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
        return changed(room, pools=tuple(pools))

    return raised


def more_bays(room: Room, part: UnitPart) -> Iterator[Ease]:
    """Yield one place more for each stay, wherever it may be: which of the bays has it is the same to the unit."""
    net = room.net
    for classes in dict.fromkeys(stay.classes for stay in part.stays):
        short = [c for c in classes if _is_ever_full(room, c)]
        if short:
            names = [bay for c in short for bay in net.classes[c].bays]
            yield Ease("bay_places", "+".join(names), _bay_words(net, short, names), _widening(short), same_part)


def _is_ever_full(room: Room, c: int) -> bool:
    group = room.net.classes[c]
    return room.bays.get(c, NONE_USED).peak >= group.places or group.free.bit_count() < room.net.slots


def _bay_words(net: Network, classes: list[int], names: list[str]) -> str:
    if len(classes) == 1:
        return f"one place more in {' or '.join(names)} than the {net.classes[classes[0]].places} there are"
    said = f"{', '.join(names[:-1])} or {names[-1]}" if len(names) <= MOST_NAMED else f"one of {len(names)} bays like {names[0]}"
    return f"one place more in {said}"


def _widening(classes: list[int]) -> Callable[[Room], Room]:
    def wider(room: Room) -> Room:
        rows = list(room.net.classes)
        for c in classes:
            rows[c] = replace(rows[c], places=rows[c].places + 1)
        return changed(room, classes=tuple(rows))

    return wider


def more_people(net: Network, part: UnitPart) -> Iterator[Ease]:
    """Yield as many people more of each skill, or lifting gear, as one step of the unit needs."""
    for skill in sorted({skill for a in part.activities for skill, _ in a.crew}):
        able = [worker for worker in net.workers if skill in worker.skills]
        more = max((count for a in part.activities for name, count in a.crew if name == skill), default=1)
        is_person = any(worker.is_person for worker in able)
        noun = skill if is_person else f"gear for {skill}"
        says = f"{more} more {noun} than the {len(able)} there {'is' if len(able) == 1 else 'are'}"
        yield Ease("crew_skills" if is_person else "lifting", skill, says, _joined_by(skill, more), same_part)


def _joined_by(skill: str, more: int) -> Callable[[Room], Room]:
    def joined(room: Room) -> Room:
        able = [n for n, worker in enumerate(room.net.workers) if skill in worker.skills]
        there = 0
        for n in able:
            there |= room.shifts[n]
        is_person = not able or room.net.workers[able[0]].is_person
        extra = [Worker(f"one more {skill} {n}", frozenset({skill}), there, is_person) for n in range(more)]
        return changed(room, workers=(*room.net.workers, *extra))

    return joined
