"""Tables by bay class that many steps have in common, each made once and shared: time and memory of a big fleet hang on it."""

from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from scheduler.activities.network import Mask, meet

Table = TypeVar("Table")
Masks = Mapping[int, Mask]


@dataclass
class Alike:
    """Tables that have been made, by what they depend on."""

    _made: dict[Hashable, object] = field(default_factory=dict)
    _met: dict[tuple[int, ...], tuple[tuple[Masks, ...], Masks]] = field(default_factory=dict)

    def once(self, key: Hashable, make: Callable[[], Table]) -> Table:
        """Make a table, or give the one that was made for the same key."""
        if key not in self._made:
            self._made[key] = make()
        return self._made[key]  # type: ignore[return-value]

    def everywhere(self, classes: tuple[int, ...], mask: Mask) -> Masks:
        """Table with the same mask in each class of bays."""
        return self.once(("everywhere", classes, mask), lambda: dict.fromkeys(classes, mask))

    def meet(self, windows: Mapping[str, Masks]) -> Masks:
        """Slots that every window leaves; worked out once for the same tables."""
        tables = tuple(windows.values())
        key = tuple(map(id, tables))
        if key not in self._met:
            self._met[key] = (tables, meet(windows))  # the tables are kept, so that no other table gets their id
        return self._met[key][1]
