"""Why there is no schedule: which orders and which rules clash, found by leaving out what is not needed for the clash."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.activities.leave_out import leave_out
from scheduler.activities.network import Network
from scheduler.activities.subset import subset
from scheduler.bound.alone import stranded
from scheduler.bound.fixed_steps import overload
from scheduler.model.build import MODEL_RULES, build_model
from scheduler.rules import RULES
from scheduler.search.clock import Clock
from scheduler.search.improve import Improver
from scheduler.search.outcome import Clash
from scheduler.search.run_solver import run

ALWAYS_IN_CHAINS = "step_order"
"""The rule that a chain cannot leave out."""
FEW = 60
"""Activities up to which one worker of CP-SAT is quicker than several."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether it is proven that there is no schedule, and the clash if it is."""

    proven: bool
    clash: Clash | None


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
    """Look for a unit that has no way through the shop even alone, and for fixed steps that clash: a matter of moments."""
    unit = stranded(net)
    return _of_fixed(net) if unit is None else _of_unit(net, unit, clock, workers)


def clash_of_units(net: Network, clock: Clock, workers: int) -> Verdict:
    """Look for a unit that cannot be done alone, by the whole model of each."""
    for path in net.paths:
        if _hopeless(subset(net, {path.unit}), clock, workers):
            return _of_unit(net, path.unit, clock, workers)
    return Verdict(False, None)


def _hopeless(net: Network, clock: Clock, workers: int) -> bool:
    """Whether some units cannot be done with the shop to themselves: insertion tries first, then comes the proof."""
    return Improver(net, 1).first() is None and (stranded(net) is not None or _infeasible(net, (), clock, workers))


def _of_fixed(net: Network) -> Verdict:
    found = overload(net)
    if found is None:
        return Verdict(False, None)
    steps = [net.activities[i] for i in found.activities]
    orders = tuple(dict.fromkeys(step.order for step in steps))
    names = ", ".join(f"{step.name} of {step.unit}" for step in steps)
    rules = ("pinned_work", found.rule)
    says = f"{names} are fixed for the same time and need more than there is. Rules that clash: {_words(list(rules))}"
    return Verdict(True, Clash(orders, rules, says))


def _infeasible(net: Network, without: Iterable[str], clock: Clock, workers: int) -> bool:
    """Whether CP-SAT proves that there is no schedule without these rules."""
    v = build_model(net, tuple(without))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers if len(net.activities) > FEW else 1
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
    """Rules that clash: the chains of the units leave out most of them in no time, CP-SAT says which of the rest are needed."""
    everything, names = list(MODEL_RULES), list(MODEL_RULES)

    def clash(kept: list[str]) -> bool:
        return _infeasible(net, [n for n in everything if n not in kept], clock, workers)

    if stranded(net):
        few = needed(everything, _strands(net))
        few += [ALWAYS_IN_CHAINS] if ALWAYS_IN_CHAINS not in few else []
        names = few if clash(few) else names
    return needed(names, clash)


def _strands(net: Network) -> Callable[[list[str]], bool]:
    """Whether some rules alone leave a unit without a way."""
    return lambda kept: stranded(leave_out(net, set(MODEL_RULES) - set(kept))) is not None


def _of_unit(net: Network, unit: str, clock: Clock, workers: int) -> Verdict:
    alone = subset(net, {unit})
    order, rules = alone.paths[0].order, _rules(alone, clock, workers)
    empty = [a.name for a in alone.activities if not any(a.starts.values())]
    where = f"; no start is left for {', '.join(empty)}" if empty else ""
    says = f"unit {unit} of order {order} cannot be done even alone in the shop{where}. Rules that clash: {_words(rules)}"
    return Verdict(True, Clash((order,), tuple(rules), says))


def clash_of_orders(net: Network, clock: Clock, workers: int) -> Verdict:
    """Look for orders that clash with each other."""
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
