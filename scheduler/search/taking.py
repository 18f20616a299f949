"""Take what a unit holds out of what is free, or give it back."""

from collections.abc import Sequence

from scheduler.search.crew_choice import Crew
from scheduler.search.holding import Holding
from scheduler.search.hours import FREE
from scheduler.search.state import UNPLACED, State
from scheduler.search.steps import Route
from scheduler.search.stock_choice import Draws


def put_in(state: State, route: Route, held: Holding, at: Sequence[int], classes: Sequence[int]) -> None:
    """Put a unit into a state with its starts and bay classes; people and packs are entered by whoever named them."""
    state.put_all(state.start, slice(route.path.first, route.path.last + 1), list(at))
    for segment in route.segments:
        if segment.stay >= 0:
            state.put(state.bay_class, segment.stay, classes[segment.first])
    hold(state, held, sign=1)
    state.put(state.holdings, route.number, held)


def take_out(state: State, route: Route) -> None:
    """Take a unit out of a state; nothing happens if it is not in."""
    held = state.holdings[route.number]
    if held is None:
        return
    hold(state, held, sign=-1)
    path = route.path
    for i in range(path.first, path.last + 1):
        for source, packs in state.draws[i]:
            state.put(state.left_ul, source, state.left_ul[source] + packs)
    here, count = slice(path.first, path.last + 1), path.last + 1 - path.first
    state.put_all(state.start, here, [UNPLACED] * count)
    nobody: list[Crew] = [()] * count
    nothing: list[Draws] = [()] * count
    state.put_all(state.crew, here, nobody)
    state.put_all(state.draws, here, nothing)
    state.put(state.holdings, route.number, None)


def add_up(state: State, held: Holding) -> None:
    """Work out which entries of a state change when a unit is entered or taken out."""
    hours, loads = state.hours, dict[int, int]()
    held.free = hours.entries(held.runs)
    for worker, start, end in held.runs:
        loads[worker] = loads.get(worker, 0) + end - start
    held.sums = [(state.rank, worker, slots) for worker, slots in loads.items()]
    held.sums += [(hours.worn[worker], day, slots) for worker, days in held.worn.items() for day, slots in days.items()]
    if state.has_overtime:
        held.sums.append((state.overtime, 0, sum(state.overtime_in(*run) for run in held.runs)))
    held.counters = [(state.pools, pool, amount, mask) for pool, amount, mask in held.uses()]
    for row, uses in ((state.bays, held.bays), (state.dust, held.dust.items()), (state.vapour, held.vapour.items())):
        held.counters += [(row, key, 1, mask) for key, mask in uses]


def hold(state: State, held: Holding, sign: int) -> None:
    """Take everything that a unit holds out of what is free, or give it back; what was there goes on the trail."""
    remember, taking = state.trail.append, sign > 0
    rows, crews = state.hours.rows, state.hours.crews
    for stretch, worker, mask in held.free:
        row = rows[stretch]
        before = row[worker]
        remember((row, worker, before))
        row[worker] = {FREE: before[FREE] & ~mask if taking else before[FREE] | mask}
    for stretch in {stretch for stretch, _, _ in held.free}:
        remember((crews, stretch, crews[stretch]))
        crews[stretch] = {}
    for numbers, key, amount in held.sums:
        remember((numbers, key, numbers[key]))
        numbers[key] += sign * amount
    for counters, key, amount, mask in held.counters:
        counter = counters[key]
        remember((counters, key, counter))
        counters[key] = counter.plus(mask, amount) if taking else counter.minus(mask, amount)
