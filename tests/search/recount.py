"""A state in plain numbers: as it counts itself, and recounted slot by slot from the placed steps alone."""

from collections import Counter
from typing import Any

from scheduler.activities.network import Network
from scheduler.search.planes import Planes
from scheduler.search.state import State


def counts(planes: Planes, slots: int, unit: int = 1) -> list[int]:
    """Use of every slot."""
    return [planes.count_at(s) * unit for s in range(slots)]


def picture(state: State) -> dict[str, Any]:
    """Everything that a state counts."""
    slots = state.net.slots
    return {
        "start": list(state.start),
        "crew": list(state.crew),
        "draws": list(state.draws),
        "free": [state.hours.free(w) for w in range(len(state.net.workers))],
        "work": list(state.work),
        "overtime": state.overtime[0],
        "respirator": [{day: n for day, n in worn.items() if n} for worn in state.hours.worn],
        "packs": list(state.left_ul),
        "present": state.present,
        "pools": [counts(p, slots, unit) for p, unit in zip(state.pools, state.unit_of, strict=True)],
        "bays": [counts(p, slots) for p in state.bays],
        "dust": {space: counts(p, slots) for space, p in zip(state.spaces, state.dust, strict=True)},
        "vapour": {space: counts(p, slots) for space, p in zip(state.spaces, state.vapour, strict=True)},
    }


def recount(net: Network, state: State) -> dict[str, Any]:
    """The same from the placed steps; every unit of the network is placed."""
    placed = {"start": list(state.start), "crew": list(state.crew), "draws": list(state.draws)}
    packs = [s.gives_ul for s in net.sources]
    for draws in state.draws:
        for source, n in draws:
            packs[source] -= n
    present = {path.unit for path in net.paths}
    return {**placed, "packs": packs, "present": present, **_people(net, state), **_capacities(net, state), **_air(net, state)}


def fixed_uses(taken: tuple[tuple[int, int, int], ...], slots: int) -> list[int]:
    """What is taken for good, slot by slot."""
    row = [0] * slots
    for start, end, amount in taken:
        _add(row, start, end, amount)
    return row


def _add(row: list[int], start: int, end: int, amount: int) -> None:
    for slot in range(max(start, 0), min(end, len(row))):
        row[slot] += amount


def _people(net: Network, state: State) -> dict[str, Any]:
    free, work, overtime = [w.free for w in net.workers], [0] * len(net.workers), 0
    worn = [Counter(dict(w.respirator_used)) for w in net.workers]
    for i, activity in enumerate(net.activities):
        slots = range(state.start[i], state.start[i] + activity.slots)
        for w, _ in state.crew[i]:
            work[w] += activity.slots
            free[w] &= ~sum(1 << slot for slot in slots)
            overtime += sum(net.overtime.get(w, 0) >> slot & 1 for slot in slots)
            worn[w].update(net.day[slot] for slot in slots if activity.respirator)
    respirator = [{day: n for day, n in used.items() if n} for used in worn]
    return {"free": free, "work": work, "overtime": overtime, "respirator": respirator}


def _capacities(net: Network, state: State) -> dict[str, Any]:
    pools, bays = ([fixed_uses(row.taken, net.slots) for row in rows] for rows in (net.pools, net.classes))
    ends = [s + a.slots for s, a in zip(state.start, net.activities, strict=True)]
    for i, activity in enumerate(net.activities):
        for demand in activity.demands:
            _add(pools[demand.pool], state.start[i], ends[i] + demand.tail, demand.amount)
        if activity.load is not None and net.warmer is not None:
            _add(pools[net.warmer], activity.load[state.start[i]], ends[i], activity.packs)
    for k, stay in enumerate(net.stays):
        _add(bays[state.bay_class[k]], 0 if stay.since_start else state.start[stay.first], ends[stay.last], 1)
    for path in net.paths:
        for pool in path.present:
            _add(pools[pool], 0 if path.since_start else state.start[path.first], ends[path.last], 1)
    return {"pools": pools, "bays": bays}


def _air(net: Network, state: State) -> dict[str, Any]:
    """How many units fill each air space with dust and with vapour; a unit counts once, however many of its steps do."""
    spaces = {c.air_space for c in net.classes if c.air_space}
    dust: dict[str, list[set[str]]] = {space: [set() for _ in range(net.slots)] for space in spaces}
    vapour: dict[str, list[set[str]]] = {space: [set() for _ in range(net.slots)] for space in spaces}
    for i, activity in enumerate(net.activities):
        c = state.bay_class[activity.stay] if activity.stay >= 0 else 0
        space, end = net.classes[c].air_space, state.start[i] + activity.slots
        if space and (activity.emits_dust or activity.emits_vapour):
            until = end if activity.emits_dust else max(end, activity.clears[c][end])
            for units in (dust if activity.emits_dust else vapour)[space][state.start[i] : until]:
                units.add(activity.unit)
    rows = {"dust": dust, "vapour": vapour}
    return {name: {space: [len(units) for units in row] for space, row in table.items()} for name, table in rows.items()}
