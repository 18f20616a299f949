"""Why there is no schedule: which orders and which rules clash, found by leaving out what is not needed for the clash."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.activities.network import Network
from scheduler.activities.subset import subset
from scheduler.model.build import MODEL_RULES, build_model
from scheduler.rules import RULES
from scheduler.search.clock import Clock
from scheduler.search.improve import Improver
from scheduler.search.outcome import Clash
from scheduler.search.run_solver import run


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether it is proven that there is no schedule, and the clash if it is."""

    proven: bool
    clash: Clash | None


def find_clash(net: Network, clock: Clock, workers: int) -> Verdict:
    """Look for a clash: in one unit alone first, then among orders.

    Returns
    -------
    Verdict
        With the fewest orders and rules that the deletion filter leaves; none where time is up before a proof.
    """
    for path in net.paths:
        alone = subset(net, {path.unit})
        if Improver(alone, 1).first() is None and _infeasible(alone, (), clock, workers):
            return Verdict(True, _of_unit(alone, path.unit, path.order, clock, workers))
    return _of_orders(net, clock, workers)


def _infeasible(net: Network, without: Iterable[str], clock: Clock, workers: int) -> bool:
    """Whether CP-SAT proves that there is no schedule without these rules."""
    v = build_model(net, tuple(without))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.max_time_in_seconds = max(0.1, min(20.0, clock.left_s()))
    return bool(run(solver, v.model, clock.interrupted) == cp_model.INFEASIBLE)


def needed(items: list[str], still_clashes: Callable[[list[str]], bool]) -> list[str]:
    """Leave out one item after the other as long as the rest still clashes; what remains is needed, each for itself."""
    kept = list(items)
    for item in items:
        rest = [other for other in kept if other != item]
        if still_clashes(rest):
            kept = rest
    return kept


def _rules(net: Network, clock: Clock, workers: int) -> list[str]:
    names = list(MODEL_RULES)
    return needed(names, lambda kept: _infeasible(net, [n for n in names if n not in kept], clock, workers))


def _of_unit(alone: Network, unit: str, order: str, clock: Clock, workers: int) -> Clash:
    rules = _rules(alone, clock, workers)
    empty = [a.name for a in alone.activities if not any(a.starts.values())]
    where = f"; no start is left for {', '.join(empty)}" if empty else ""
    says = f"unit {unit} of order {order} cannot be done even alone in the shop{where}. Rules that clash: {_words(rules)}"
    return Clash((order,), tuple(rules), says)


def _of_orders(net: Network, clock: Clock, workers: int) -> Verdict:
    if not _infeasible(net, (), clock, workers):
        return Verdict(False, None)
    units = {order: [p.unit for p in net.paths if p.order == order] for order in dict.fromkeys(p.order for p in net.paths)}

    def clashes(orders: list[str]) -> bool:
        return bool(orders) and _infeasible(subset(net, {u for o in orders for u in units[o]}), (), clock, workers)

    orders = needed(list(units), clashes)
    rules = _rules(subset(net, {u for o in orders for u in units[o]}), clock, workers)
    says = f"orders {', '.join(orders)} do not fit into the horizon together. Rules that clash: {_words(rules)}"
    return Verdict(True, Clash(tuple(orders), tuple(rules), says))


def _words(rules: list[str]) -> str:
    return "; ".join(f"{name} ({RULES[name].says})" for name in rules)
