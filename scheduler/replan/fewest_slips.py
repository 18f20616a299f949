"""The fewest orders that must slip so that all others find a place: found by insertion, on small shops proven by CP-SAT."""

from collections.abc import Callable, Collection, Sequence
from itertools import combinations, islice
from typing import Final

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.activities.subset import subset
from scheduler.replan.fitting import Fitting
from scheduler.search.as_told import AsTold
from scheduler.search.clash_rules import SMALL, infeasible, some_schedule
from scheduler.search.clock import Clock
from scheduler.search.insertion import Inserter
from scheduler.search.smallest import Smallest, smallest_cut
from scheduler.search.state import State

MOST_SETS: Final = 25
"""Sets of fewer orders that are tried by insertion alone."""
PROOF_S: Final = 10.0
"""Seconds for the proof."""

Clashes = Callable[[Sequence[str]], bool | None]


def fewest_slips(fitting: Fitting) -> Smallest:
    """Smallest set of orders without which the others fit that was found, and whether it is proven that fewer do not suffice.

    Orders with a unit that has no way even alone are in every set; among the others those of less weight are taken first.
    """
    weight = {due.order: due.weight for due in fitting.net.dues}
    must = fitting.stranded()
    chosen = _irreducible(fitting, must, weight)
    rest = [path.order for path in fitting.net.paths if path.order not in must]
    others = sorted(dict.fromkeys(rest), key=lambda order: (weight.get(order, 0), order))
    sizes = range(len(chosen) - len(must))
    smaller = islice((few for size in sizes for few in combinations(others, size)), MOST_SETS)
    known = next(((*must, *few) for few in smaller if fitting.fits((*must, *few))), chosen)
    return smallest_cut([*must, *others], known, _clashes(fitting, (*must, *others)))


def _irreducible(fitting: Fitting, must: Sequence[str], weight: dict[str, int]) -> tuple[str, ...]:
    """Orders of the units that are left over, without those that fit after all once the others are out."""
    chosen = list(must)
    while left := fitting.fill(chosen).left:
        chosen += dict.fromkeys(path.order for path in left)
    for order in sorted(set(chosen) - set(must), key=lambda order: (-weight.get(order, 0), order)):
        rest = [other for other in chosen if other != order]
        if fitting.fits(rest):
            chosen = rest
    return tuple(chosen)


def _clashes(fitting: Fitting, orders: Sequence[str]) -> Clashes:
    """Whether some orders clash: no where insertion or CP-SAT finds a way, yes where CP-SAT proves it, else it is not known."""
    clock, net = Clock(PROOF_S), fitting.net

    def clash(some: Sequence[str]) -> bool | None:
        if fitting.fits([order for order in orders if order not in some]):
            return False
        if len(net.activities) > SMALL or clock.over() >= 1.0:
            return None
        return infeasible(subset(net, {path.unit for path in net.paths if path.order in some}), (), clock, 1)

    return clash


def all_but(net: Network, orders: Collection[str]) -> Inserter:
    """Put in all units but those of some orders, by CP-SAT where insertion leaves some of them out."""
    fitting = Fitting(net)
    filled = fitting.fill(orders)
    units = {path.unit for path in net.paths if path.order not in orders}
    if not filled.left or len(net.activities) > SMALL:
        return filled.inserter
    placed = some_schedule(subset(net, units), Clock(PROOF_S))
    if placed is None:
        return filled.inserter
    inserter = Inserter(net, State(net, fitting.routes), routes=fitting.routes)
    told = AsTold(inserter, _in_whole(net, units, placed))
    return inserter if all(told.put(path) for path in net.paths if path.unit in units) else filled.inserter


def _in_whole(net: Network, units: Collection[str], placed: Placed) -> Placed:
    """A solution of some units in the numbers of the whole network; the others are nowhere."""
    nowhere = State(net).placed()
    start, bays, crew, draws = list(nowhere.start), list(nowhere.bay_class), list(nowhere.crew), list(nowhere.draws)
    for n, i in enumerate(i for i, activity in enumerate(net.activities) if activity.unit in units):
        start[i], crew[i], draws[i] = placed.start[n], placed.crew[n], placed.draws[n]
    for n, k in enumerate(k for k, stay in enumerate(net.stays) if stay.unit in units):
        bays[k] = placed.bay_class[n]
    return Placed(tuple(start), tuple(bays), tuple(crew), tuple(draws))
