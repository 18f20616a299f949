"""Clashes that are seen in moments: steps that are fixed together, stock that does not go round, capacity that is short."""

from collections.abc import Sequence
from dataclasses import dataclass

from scheduler.activities.network import Network
from scheduler.bound.fixed_steps import fixed_start, overload
from scheduler.bound.too_much import too_much
from scheduler.material.pack import UL_PER_ML, at_most_ul
from scheduler.rules import RULES
from scheduler.search.outcome import Clash


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether it is proven that there is no schedule, and the clash if it is."""

    proven: bool
    clash: Clash | None


def of_fixed(net: Network) -> Verdict:
    """Look for steps that are fixed for the same time and need more than there is."""
    found = overload(net)
    if found is None:
        return Verdict(False, None)
    steps = [net.activities[i] for i in found.activities]
    orders = tuple(dict.fromkeys(step.order for step in steps))
    names = ", ".join(f"{step.name} of {step.unit}" for step in steps)
    rules = ("pinned_work", found.rule)
    says = f"{names} are fixed for the same time and need more than there is. Rules that clash: {words(list(rules))}"
    return Verdict(True, Clash(orders, rules, says))


def of_stock(net: Network) -> Verdict:
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
    return Verdict(True, Clash(tuple(sorted(orders)), ("cartridge_stock",), says + words(["cartridge_stock"]), fewest=True))


def of_capacity(net: Network) -> Verdict:
    """Look for units that cannot be done together: those with fixed steps first, then all."""
    fixed = {a.unit for a in net.activities if fixed_start(a) is not None}
    for units in ([p.unit for p in net.paths if p.unit in fixed], [p.unit for p in net.paths]):
        found = too_much(net, units)
        if found is not None:
            orders = tuple(dict.fromkeys(p.order for p in net.paths if p.unit in found.units))
            rules = (*(["pinned_work"] if set(found.units) <= fixed else []), *found.rules)
            says = f"units {', '.join(found.units)} of {', '.join(orders)} cannot all be done in the time and room that there is"
            return Verdict(True, Clash(orders, rules, f"{says}. Rules that clash: {words(list(rules))}"))
    return Verdict(False, None)


def words(rules: Sequence[str]) -> str:
    """Rules with what they say."""
    return "; ".join(f"{name} ({RULES[name].says})" for name in rules)
