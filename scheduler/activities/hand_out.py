"""Hand out what is alike: which bay and place of a class, which gun, which warmer. Capacity has been kept already."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Use:
    """A use of one item from slot ``start`` to slot ``end``; ``kind`` is what it prefers to find there (a product)."""

    key: int
    start: int
    end: int
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Store:
    """A warmer: its name, its slots, and when it is out of service."""

    name: str
    capacity: int
    shut: tuple[tuple[int, int], ...] = ()


class NothingFreeError(RuntimeError):
    """More uses at once than items; the search let something through that it should not have."""


def hand_out(
    uses: Iterable[Use], items: Sequence[str], barred: Callable[[str, Use], bool] = lambda _item, _use: False
) -> dict[int, str]:
    """Give every use an item of its own, first come first served.

    Intervals that never overlap more than ``len(items)`` deep can always be served in the order of their starts. An
    item that was last used for the same kind is preferred, so that a gun keeps its product.

    Raises
    ------
    NothingFreeError
        If a use finds no free item.
    """
    free_from = dict.fromkeys(items, 0)
    last_kind = dict.fromkeys(items, "")
    given: dict[int, str] = {}
    for use in sorted(uses, key=lambda u: (u.start, u.end, u.key)):
        free = [item for item in items if free_from[item] <= use.start and not barred(item, use)]
        if not free:
            msg = f"no item free for use {use.key} at slot {use.start}: {', '.join(items)}"
            raise NothingFreeError(msg)
        item = next((i for i in free if last_kind[i] == use.kind), free[0])
        given[use.key] = item
        free_from[item], last_kind[item] = use.end, use.kind
    return given


def share_out(uses: Iterable[tuple[Use, int]], stores: Sequence[Store]) -> dict[int, list[tuple[str, int]]]:
    """Share cartridges among warmers: each use takes a number of slots, from one warmer if it can, from several if not.

    Raises
    ------
    NothingFreeError
        If the warmers cannot hold them.
    """
    held: dict[str, list[tuple[int, int, int]]] = {s.name: [(a, b, s.capacity) for a, b in s.shut] for s in stores}
    given: dict[int, list[tuple[str, int]]] = {}
    for use, amount in sorted(uses, key=lambda u: (u[0].start, u[0].end, u[0].key)):
        room = [(store, store.capacity - _most(held[store.name], use)) for store in stores]
        room.sort(key=lambda pair: (pair[1] < amount, pair[1] if pair[1] >= amount else -pair[1]))
        left, given[use.key] = amount, []
        for store, free in room:
            take = min(left, free)
            if take > 0:
                held[store.name].append((use.start, use.end, take))
                given[use.key].append((store.name, take))
                left -= take
        if left:
            msg = f"{left} of {amount} cartridges find no warmer slot from slot {use.start} to {use.end}"
            raise NothingFreeError(msg)
    return given


def _most(held: list[tuple[int, int, int]], use: Use) -> int:
    """Most slots in use at once while ``use`` lasts."""
    overlapping = [(max(a, use.start), n) for a, b, n in held if a < use.end and use.start < b]
    return max((sum(n for a, b, n in held if a <= t < b) for t, _ in overlapping), default=0)
