"""Hand out what is alike: which bay and place of a class, which gun, which warmer. Capacity has been kept already."""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from operator import attrgetter

Spans = tuple[tuple[int, int], ...]
PATIENCE = 20_000
NEVER = float("inf")


@dataclass(frozen=True, slots=True)
class Use:
    """A use of one item from slot ``start`` to slot ``end``.

    ``kind`` is what it prefers to find there (a product), ``told`` the item that people were told it would have; with
    ``kind_first`` it does not go there if something else was there last.
    """

    key: int
    start: int
    end: int
    kind: str = ""
    told: str = ""
    kind_first: bool = False


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
        try:
            desk.serve(group)
        except NothingFreeError:
            if not any(use.told for use in group):
                raise
            desk = _Desk(items, shut or {}, desk.given)  # nothing is in use between two groups
            desk.serve([replace(use, told="") for use in group])
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


def _by_item(group: list[Use]) -> dict[str, list[Use]]:
    """Uses of a sorted group by the item of which people were told."""
    found: dict[str, list[Use]] = defaultdict(list)
    for use in group:
        if use.told:
            found[use.told].append(use)
    return dict(found)


@dataclass
class _Desk:
    items: Sequence[str]
    shut: Mapping[str, Spans]
    given: dict[int, str] = field(default_factory=dict)
    free_from: dict[str, int] = field(default_factory=dict)
    last_kind: dict[str, str] = field(default_factory=dict)
    told: Mapping[str, list[Use]] = field(default_factory=dict)

    def serve(self, group: list[Use]) -> None:
        """Give each use of a group an item, going back where a choice was wrong."""
        self.told = _by_item(group)
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
        """Yield items free for a use: that of which it was told, one that goes out of service soonest, one with its product."""
        shut = self.shut
        suits = not use.kind_first or self.last_kind.get(use.told, "") in ("", use.kind)
        first = [use.told] if use.told and suits and self._is_free(use.told, use) else []
        yield from first
        free = [item for item in self.items if item not in first and self._is_free(item, use)]

        def rank(item: str) -> tuple[bool, float, bool]:
            next_shut = self._next_shut(item, use.end) if shut.get(item) else NEVER
            return self._told_to_other(item, use), next_shut, self.last_kind.get(item, "") != use.kind

        yield from sorted(free, key=rank)

    def _is_free(self, item: str, use: Use) -> bool:
        return self.free_from.get(item, 0) <= use.start and not (self.shut.get(item) and self._is_shut(item, use))

    def _told_to_other(self, item: str, use: Use) -> bool:
        others = self.told.get(item, [])
        before = others[: bisect_left(others, use.end, key=attrgetter("start"))]
        return any(use.start < other.end and other is not use for other in reversed(before))

    def _is_shut(self, item: str, use: Use) -> bool:
        return any(a < use.end and use.start < b for a, b in self.shut.get(item, ()))

    def _next_shut(self, item: str, slot: int) -> float:
        return min((a for a, _ in self.shut.get(item, ()) if a >= slot), default=NEVER)
