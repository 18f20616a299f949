"""The smallest set that clashes, and the smallest one to leave out so that nothing does, proven by hitting sets.

Each clash that is known must lose one of its items, and each set whose loss ends all clashes must lose one to every clash:
the smallest set that meets all known sets of one kind is a bound on the other. Where it is a solution too, nothing is smaller.
The method is that of implicit hitting sets (Ignatiev et al., Smallest MUS Extraction with Minimal Hitting Set Dualization,
CP 2015; from memory).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

Items = tuple[str, ...]
Clashes = Callable[[Sequence[str]], bool | None]
"""Whether some items clash; None where that was not found out."""
MOST_QUESTIONS: Final = 80


@dataclass(frozen=True, slots=True)
class Smallest:
    """A set of items, and whether it is proven that no smaller one does the same."""

    items: Items
    proven: bool


class _Enough(Exception):  # noqa: N818 - it ends a search, nothing is wrong
    """A question was not answered, or too many were asked."""


class _Asked:
    """Asks, and gives up where an answer is missing."""

    def __init__(self, clashes: Clashes) -> None:
        self.clashes, self.left = clashes, MOST_QUESTIONS

    def __call__(self, items: Sequence[str]) -> bool:
        self.left -= 1
        answer = self.clashes(items) if self.left >= 0 else None
        if answer is None:
            raise _Enough
        return answer


def hitting_set(groups: Sequence[frozenset[str]], order: Sequence[str]) -> Items:
    """Smallest set with an item of every group, by preference of those that come first in an order."""
    rank, size = {item: n for n, item in enumerate(order)}, 0
    while (found := _hit(groups, size, frozenset(), rank)) is None:
        size += 1
    return tuple(sorted(found, key=rank.__getitem__))


def _hit(groups: Sequence[frozenset[str]], size: int, chosen: frozenset[str], rank: dict[str, int]) -> frozenset[str] | None:
    left = [group for group in groups if not group & chosen]
    if not left or not size:
        return None if left else chosen
    shortest = sorted(sorted(left, key=len)[0], key=rank.__getitem__)
    tried = (_hit(left, size - 1, chosen | {item}, rank) for item in shortest)
    return next((found for found in tried if found is not None), None)


def smallest_clash(items: Sequence[str], known: Sequence[str], clashes: Clashes) -> Smallest:
    """Find the fewest items that clash.

    Parameters
    ----------
    items : sequence of str
        That clash all together.
    known : sequence of str
        Some of them that clash; it is not looked for more.
    clashes : callable
    """
    asked = _Asked(clashes)
    try:
        cuts = [frozenset({item}) for item in known if not asked([other for other in items if other != item])]
        while len(few := hitting_set(cuts, items)) < len(known):
            if asked(few):
                return Smallest(few, proven=True)
            cuts.append(_cut(items, few, asked))
    except _Enough:
        return Smallest(tuple(known), proven=False)
    return Smallest(tuple(known), proven=True)


def _cut(items: Sequence[str], few: Sequence[str], asked: _Asked) -> frozenset[str]:
    """What is left out of as many items as go with some without a clash."""
    kept = list(few)
    for item in items:
        if item not in kept and not asked([*kept, item]):
            kept.append(item)
    return frozenset(items) - frozenset(kept)


def smallest_cut(items: Sequence[str], known: Sequence[str], clashes: Clashes) -> Smallest:
    """Find the fewest items without which the others do not clash, by preference of those that come first.

    Parameters
    ----------
    items : sequence of str
    known : sequence of str
        Some of them without which the others do not clash.
    clashes : callable
    """
    asked, cores = _Asked(clashes), list[frozenset[str]]()
    try:
        while len(few := hitting_set(cores, items)) < len(known):
            rest = [item for item in items if item not in few]
            if not asked(rest):
                return Smallest(few, proven=True)
            cores.append(frozenset(_needed(rest, asked)))
    except _Enough:
        return Smallest(tuple(known), proven=False)
    return Smallest(tuple(known), proven=True)


def _needed(items: Sequence[str], asked: _Asked) -> list[str]:
    kept = list(items)
    for item in items:
        rest = [other for other in kept if other != item]
        if asked(rest):
            kept = rest
    return kept
