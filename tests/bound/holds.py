"""What a relaxation must grant every schedule: its ways, its rows, its lateness."""

from collections.abc import Iterator
from random import Random

import numpy as np

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.columns import Column
from scheduler.bound.nodes import Node
from scheduler.bound.pricing import Way
from scheduler.bound.relaxation import SCALE, Relaxation
from scheduler.bound.tighten import Tightener
from scheduler.search.improve import Better, Improver


def some_schedules(net: Network, seed: int, moves: int = 12) -> list[Better]:
    """The first schedule and what some moves of improvement find on the way."""
    improver = Improver(net, seed)
    first = improver.first()
    if first is None:
        return []
    found = [first]
    improver.run(lambda done: done / moves, found.append)
    return found


def faults(tightener: Tightener, better: Better) -> list[str]:
    """What is wrong with a bound in the light of a schedule; nothing if it holds."""
    relaxation = tightener.relaxation
    found = list(_forbidden(relaxation, better.placed))
    if not found:
        columns = _columns(relaxation, better.placed)
        found += _overfull(relaxation, columns)
        found += _underpriced(relaxation, columns)
    if tightener.bound > better.value.lateness or not tightener.fits:
        found.append(f"bound {tightener.bound} above a schedule of {better.value.lateness}")
    return found


def _ways(relaxation: Relaxation, placed: Placed) -> Iterator[tuple[int, int, Way]]:
    for m, member in enumerate(relaxation.orders.members):
        for unit in member.units:
            yield m, unit, relaxation.way_of(m, unit, placed)


def _columns(relaxation: Relaxation, placed: Placed) -> list[Column]:
    return [relaxation.column(m, way) for m, _, way in _ways(relaxation, placed)]


def _forbidden(relaxation: Relaxation, placed: Placed) -> Iterator[str]:
    """Yield starts of a schedule that the chains do not have."""
    for m, unit, way in _ways(relaxation, placed):
        name, before = relaxation.net.paths[unit].unit, -1
        layers = relaxation.chains[relaxation.orders.members[m].chain].layers
        for layer, k, start, earlier in zip(layers, way.nodes, way.starts, (None, *way.starts), strict=False):
            node = layer[k]
            if not node.allowed[start]:
                yield f"{name}: {relaxation.net.activities[node.activity].name} may not start at {start}"
            if earlier is not None and not _follows(node, before, earlier, start):
                yield f"{name}: {relaxation.net.activities[node.activity].name} may not follow {earlier} at {start}"
            before = k


def _follows(node: Node, before: int, earlier: int, start: int) -> bool:
    return any(
        step.before == before and (step.low is None or step.low[start] <= earlier) and earlier <= step.high[start]
        for step in node.steps
    )


def _overfull(relaxation: Relaxation, columns: list[Column]) -> Iterator[str]:
    """Yield rows that the ways of a schedule overfill, among all that the relaxation has."""
    total = sum((relaxation.use(column) for column in columns), np.zeros(len(relaxation.rows), dtype=np.int64))
    for row in np.flatnonzero(total > relaxation.rows.capacity):
        name = relaxation.capacities.names[relaxation.rows.resource[row]]
        yield f"{name} from {relaxation.rows.first[row]} takes {total[row]} of {relaxation.rows.capacity[row]}"
    if any((relaxation.use(column) < 0).any() for column in columns):
        yield "a way gives something back"


def _underpriced(relaxation: Relaxation, columns: list[Column]) -> Iterator[str]:
    """Yield prices, drawn by chance, at which the Lagrangian is above the schedule."""
    random = Random(len(columns))
    price = np.array([random.choice((0, 0, 0, 1, 5)) * SCALE // 50 for _ in range(len(relaxation.rows))], dtype=np.int64)
    share = [random.choice((0, SCALE // 2, SCALE)) for _ in relaxation.shares]
    lateness = relaxation.orders.settled + sum(column.direct for column in columns)
    for number, piece in enumerate(relaxation.orders.pieces):
        weight = int(relaxation.orders.weights[number])
        within = [
            c.in_pieces[relaxation.orders.members[c.member].pieces.index(number)]
            for c in columns
            if number in relaxation.orders.members[c.member].pieces
        ]
        if max(within) > piece.width:
            yield "a unit has more days in a piece than it is wide"
        lateness += weight * max(within)
    value = relaxation.value(price, share).value
    if value is None or value > lateness * SCALE:
        yield f"Lagrangian {value} above {lateness * SCALE}"
