"""Units that cannot all be done, whatever their lateness: together they need more than the shop has.

Without due dates nothing costs anything, so a Lagrangian above nothing is a proof that no schedule exists. The rows with a price
say what is short.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from scheduler.activities.network import Network
from scheduler.activities.subset import subset
from scheduler.bound.tighten import Tightener

ROUNDS = 12
"""Rounds after which what is short would mostly have shown."""


@dataclass(frozen=True, slots=True)
class TooMuch:
    """Units of which each is needed for the clash, and the rules of what is short."""

    units: tuple[str, ...]
    rules: tuple[str, ...]


def too_much(net: Network, units: Sequence[str]) -> TooMuch | None:
    """Find units among some that cannot be done together, as few as leaving them out one by one ends with; None if unknown."""
    if _short(net, units) is None:
        return None
    few = _halved(list(units), lambda some: _short(net, some) is not None)
    return TooMuch(tuple(few), _short(net, few) or ())


def _short(net: Network, units: Sequence[str]) -> tuple[str, ...] | None:
    """Rules of what these units are short of; None if that is not proven."""
    if not units:
        return None
    tightener = Tightener(replace(subset(net, set(units)), dues=()))
    while not tightener.done and tightener.best <= 0 and tightener.rounds < ROUNDS:
        tightener.step()
    if not tightener.fits or tightener.best <= 0:
        return None
    relaxation, (price, _) = tightener.relaxation, tightener.prices()
    resources = [int(r) for r, p in zip(relaxation.rows.resource, price, strict=True) if p > 0]
    return tuple(dict.fromkeys(relaxation.capacities.rules[r] for r in resources))


def _halved(items: list[str], clash: Callable[[list[str]], bool]) -> list[str]:
    """Leave out what is not needed, in stretches that get shorter; with the last ones each of what remains is needed."""
    size = max(1, len(items) // 2)
    while True:
        at = 0
        while at < len(items):
            rest = items[:at] + items[at + size :]
            if clash(rest):
                items = rest
            else:
                at += size
        if size == 1:
            return items
        size = max(1, size // 2)
