"""units_away: a customer never has more units away than it can spare."""

from collections import defaultdict
from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.check.on_site import new_overloads, on_site
from scheduler.check.sweep import Claim


def check(facts: Facts) -> Iterator[Breach]:
    """Yield times in which an order has too many units on the site."""
    away: dict[str, list[Claim[Job]]] = defaultdict(list)
    for claim in on_site(facts):
        if claim.holder:
            away[claim.holder.unit.order_id].append(claim)
    for order_id, claims in away.items():
        most = facts.shop.order_by_id[order_id].most_units_away
        for overload in new_overloads(claims, most) if most is not None else ():
            says = f"order {order_id} has {overload.load:.0f} units away from {facts.when(overload.at)}, it can spare {most}"
            yield facts.breach("units_away", overload.holders, overload.at, overload.load - (most or 0), says)
