"""Hand out what is alike: which bay and place of a class, which gun, which warmer. Capacity has been kept already."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

Spans = tuple[tuple[int, int], ...]
PATIENCE = 20_000
NEVER = float("inf")


@dataclass(frozen=True, slots=True)
class Use:
    """A use of one item from slot ``start`` to slot ``end``.

    ``kind`` is what it prefers to find there (a product), ``told`` the item that people were told it would have.
    """

    key: int
    start: int
    end: int
    kind: str = ""
    told: str = ""


class NothingFreeError(RuntimeError):
    """More uses at once than items; the search let something through that it should not have."""


def hand_out(uses: Iterable[Use], items: Sequence[str], shut: Mapping[str, Spans] | None = None) -> dict[int, str]:
    """Give every use an item of its own, first come first served.

    Intervals that never overlap more than ``len(items)`` deep can always be served in the order of their starts. An
    item that was last used for the same kind is preferred, so that a gun keeps its product, and before that the item that
    people were told; what was told to somebody else is left to them. Where items are out of
    service at times, that order may lead into a dead end: uses that overlap are then tried in every way.

    Raises
    ------
    NothingFreeError
        If a use finds no free item.
    """
    desk = _Desk(items, shut or {})
    for group in _groups(sorted(uses, key=lambda u: (u.start, u.end, u.key))):
        desk.serve(group)
    return desk.given


def _groups(uses: list[Use]) -> Iterator[list[Use]]:
    """Cut sorted uses where none is running."""
    group: list[Use] = []
    end = 0
    for use in uses:
        if group and use.start >= end:
            yield group
            group = []
        group.append(use)
        end = max(end, use.end)
    if group:
        yield group


@dataclass
class _Desk:
    items: Sequence[str]
    shut: Mapping[str, Spans]
    given: dict[int, str] = field(default_factory=dict)
    free_from: dict[str, int] = field(default_factory=dict)
    last_kind: dict[str, str] = field(default_factory=dict)
    told: tuple[Use, ...] = ()

    def serve(self, group: list[Use]) -> None:
        """Give each use of a group an item, going back where a choice was wrong."""
        self.told = tuple(use for use in group if use.told)
        options = [self._options(group[0])]
        undo: list[tuple[str, int, str]] = []
        tries = PATIENCE
        while options:
            use = group[len(options) - 1]
            item = next(options[-1], None)
            tries -= 1
            if tries < 0 or (item is None and len(options) == 1):
                msg = f"no item free for use {use.key} at slot {use.start}: {', '.join(self.items)}"
                raise NothingFreeError(msg)
            if item is None:
                options.pop()
                item, self.free_from[item], self.last_kind[item] = undo.pop()
                continue
            undo.append((item, self.free_from.get(item, 0), self.last_kind.get(item, "")))
            self.given[use.key], self.free_from[item], self.last_kind[item] = item, use.end, use.kind
            if len(options) == len(group):
                return
            options.append(self._options(group[len(options)]))

    def _options(self, use: Use) -> Iterator[str]:
        """Items free for a use: one that goes out of service soonest after it first, then one with its product."""
        shut, free_from = self.shut, self.free_from
        free = [i for i in self.items if free_from.get(i, 0) <= use.start and not (shut.get(i) and self._is_shut(i, use))]

        def rank(item: str) -> tuple[bool, bool, float, bool]:
            told = (item != use.told, self._told_to_other(item, use)) if self.told else (True, False)
            next_shut = self._next_shut(item, use.end) if shut.get(item) else NEVER
            return (*told, next_shut, self.last_kind.get(item, "") != use.kind)

        return iter(sorted(free, key=rank))

    def _told_to_other(self, item: str, use: Use) -> bool:
        return any(o.told == item and o is not use and o.start < use.end and use.start < o.end for o in self.told)

    def _is_shut(self, item: str, use: Use) -> bool:
        return any(a < use.end and use.start < b for a, b in self.shut.get(item, ()))

    def _next_shut(self, item: str, slot: int) -> float:
        return min((a for a, _ in self.shut.get(item, ()) if a >= slot), default=NEVER)
