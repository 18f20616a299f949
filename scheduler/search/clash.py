"""Why there is no schedule: which orders and which rules clash, found by leaving out what is not needed for the clash."""

from collections.abc import Sequence

from scheduler.activities.network import Network
from scheduler.activities.subset import subset
from scheduler.bound.alone import stranded
from scheduler.search.clash_at_once import Verdict, of_capacity, of_fixed, of_stock, words
from scheduler.search.clash_rules import SMALL, infeasible, needed, rules_of
from scheduler.search.clock import Clock
from scheduler.search.improve import Improver
from scheduler.search.outcome import Clash
from scheduler.search.smallest import Smallest, smallest_clash


def find_clash(net: Network, clock: Clock, workers: int) -> Verdict:
    """Look for a clash: in one unit alone first, then among units with fixed steps, then among orders.

    Returns
    -------
    Verdict
        With the fewest orders and rules that the deletion filter leaves; none where time is up before a proof.
    """
    for look in (clash_of_few, clash_of_units, clash_of_orders):
        verdict = look(net, clock, workers)
        if verdict.proven:
            return verdict
    return Verdict(False, None)


def clash_of_few(net: Network, clock: Clock, workers: int) -> Verdict:
    """Look for what takes moments: fixed steps, stock, a unit that has no way through the shop even alone, what is short."""
    for look in (of_fixed, of_stock):
        verdict = look(net)
        if verdict.proven:
            return verdict
    unit = stranded(net)
    return of_capacity(net) if unit is None else _of_unit(net, unit, clock, workers)


def clash_of_units(net: Network, clock: Clock, workers: int) -> Verdict:
    """Look for a unit that cannot be done alone, by the whole model of each."""
    for path in net.paths:
        if _hopeless(subset(net, {path.unit}), clock, workers):
            return _of_unit(net, path.unit, clock, workers)
    return Verdict(False, None)


def _hopeless(net: Network, clock: Clock, workers: int) -> bool:
    """Whether some units cannot be done with the shop to themselves: insertion tries first, then comes the proof."""
    return Improver(net, 1).first() is None and (stranded(net) is not None or bool(infeasible(net, (), clock, workers)))


def _of_unit(net: Network, unit: str, clock: Clock, workers: int) -> Verdict:
    alone = subset(net, {unit})
    order, rules = alone.paths[0].order, rules_of(alone, clock, workers)
    empty = [a.name for a in alone.activities if not any(a.starts.values())]
    where = f"; no start is left for {', '.join(empty)}" if empty else ""
    says = f"unit {unit} of order {order} cannot be done even alone in the shop{where}. Rules that clash: {words(rules.items)}"
    return Verdict(True, Clash((order,), rules.items, says, rules.proven))


def clash_of_orders(net: Network, clock: Clock, workers: int) -> Verdict:
    """Look for orders that clash with each other."""
    if not infeasible(net, (), clock, workers):
        return Verdict(False, None)
    units = {order: [p.unit for p in net.paths if p.order == order] for order in dict.fromkeys(p.order for p in net.paths)}

    def clashes(orders: Sequence[str]) -> bool | None:
        return bool(orders) and infeasible(subset(net, {u for o in orders for u in units[o]}), (), clock, workers)

    orders = needed(list(units), clashes)
    least = (
        smallest_clash(list(units), orders, clashes) if len(net.activities) <= SMALL else Smallest(tuple(orders), proven=False)
    )
    rules = rules_of(subset(net, {u for o in least.items for u in units[o]}), clock, workers)
    says = f"orders {', '.join(least.items)} do not fit into the horizon together. Rules that clash: {words(rules.items)}"
    return Verdict(True, Clash(least.items, rules.items, says, least.proven and rules.proven))
