"""Why there is no schedule: which orders and which rules clash, found by leaving out what is not needed for the clash."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.activities.leave_out import leave_out
from scheduler.activities.network import Network
from scheduler.activities.subset import subset
from scheduler.bound.alone import stranded
from scheduler.bound.fixed_steps import fixed_start, overload
from scheduler.bound.too_much import too_much
from scheduler.material.pack import UL_PER_ML, at_most_ul
from scheduler.model.build import MODEL_RULES, build_model
from scheduler.rules import RULES
from scheduler.search.clock import Clock
from scheduler.search.improve import Improver
from scheduler.search.narrow import narrow
from scheduler.search.outcome import Clash
from scheduler.search.run_solver import run

ALWAYS_IN_CHAINS = "step_order"
"""The rule that a chain cannot leave out."""
FEW = 60
"""Activities up to which one worker of CP-SAT is quicker than several."""

MOST_STEPS = 4.0
"""Deterministic time of CP-SAT for one question, so that also a counted run comes to an end."""


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
    """Look for what takes moments: fixed steps, stock, a unit that has no way through the shop even alone, what is short."""
    for look in (_of_fixed, _of_stock):
        verdict = look(net)
        if verdict.proven:
            return verdict
    unit = stranded(net)
    return _of_capacity(net) if unit is None else _of_unit(net, unit, clock, workers)


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


def _of_stock(net: Network) -> Verdict:
    """Look for a product of which there is not enough, and the fewest orders that it does not suffice for."""
    for product in net.sheets:
        asked: dict[str, int] = {}
        for a in net.activities:
            if a.product == product:
                asked[a.order] = asked.get(a.order, 0) + at_most_ul(a.volume_ml)
        there = sum(source.gives_ul for source in net.sources if source.product == product)
        if sum(asked.values()) > there:
            return _short_of(product, asked, there)
    return Verdict(False, None)


def _short_of(product: str, asked: dict[str, int], there: int) -> Verdict:
    """The orders that ask most, until they ask for more than there is."""
    orders: list[str] = []
    for order in sorted(asked, key=lambda name: (-asked[name], name)):
        if sum(asked[name] for name in orders) > there:
            break
        orders.append(order)
    missing_ml = -(-(sum(asked.values()) - there) // UL_PER_ML)
    need_ml, has_ml = sum(asked[name] for name in orders) // UL_PER_ML, there // UL_PER_ML
    says = f"{product}: order{'s' * (len(orders) > 1)} {', '.join(sorted(orders))} need{'s' * (len(orders) == 1)} {need_ml} mL, "
    says += f"the stock gives {has_ml} mL; {missing_ml} mL are missing for all orders. Rules that clash: "
    return Verdict(True, Clash(tuple(sorted(orders)), ("cartridge_stock",), says + _words(["cartridge_stock"])))


def _of_capacity(net: Network) -> Verdict:
    """Look for units that cannot be done together: those with fixed steps first, then all."""
    fixed = {a.unit for a in net.activities if fixed_start(a) is not None}
    for units in ([p.unit for p in net.paths if p.unit in fixed], [p.unit for p in net.paths]):
        found = too_much(net, units)
        if found is not None:
            orders = tuple(dict.fromkeys(p.order for p in net.paths if p.unit in found.units))
            rules = (*(["pinned_work"] if set(found.units) <= fixed else []), *found.rules)
            says = f"units {', '.join(found.units)} of {', '.join(orders)} cannot all be done in the time and room that there is"
            return Verdict(True, Clash(orders, rules, f"{says}. Rules that clash: {_words(list(rules))}"))
    return Verdict(False, None)


def _infeasible(net: Network, without: Iterable[str], clock: Clock, workers: int) -> bool:
    """Whether CP-SAT proves that there is no schedule without these rules."""
    left_out = tuple(without)
    starts = [dict(a.starts) for a in net.activities] if not left_out else None
    if starts is not None and not narrow(net, starts):
        return True
    v = build_model(net, left_out, starts)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers if len(net.activities) > FEW else 1
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.max_time_in_seconds = max(0.1, min(20.0, clock.left_s()))
    solver.parameters.max_deterministic_time = MOST_STEPS
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
    return needed(names, clash) or [_built_in(net)]


def _built_in(net: Network) -> str:
    """Rule that stands in the network itself, where it has no schedule though every rule of the model is left out."""
    return "bay_fit" if any(not stay.classes for stay in net.stays) else "shift_hours"


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
