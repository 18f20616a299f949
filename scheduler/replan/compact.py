"""Networks as JSON text that is read in milliseconds: what occurs many times is written once, masks as hexadecimal digits.

A document has named parts, and only those that are asked for are made. Nothing in such a file is run; a reader makes only the
classes of this list.
"""

import json
from collections.abc import Mapping
from dataclasses import fields
from itertools import accumulate, pairwise
from typing import Any, Final

from scheduler.activities import network
from scheduler.activities.placed import Placed
from scheduler.material.pack import PackSheet
from scheduler.replan.extend import UnitPart
from scheduler.replan.room import Room
from scheduler.replan.used import Used

_CLASSES: Final[dict[str, type]] = {
    cls.__name__: cls
    for cls in (
        network.Activity,
        network.BayClass,
        network.Demand,
        network.Due,
        network.Lag,
        network.Network,
        network.Path,
        network.Pool,
        network.Rent,
        network.Source,
        network.Stay,
        network.Worker,
        PackSheet,
        Placed,
        Room,
        UnitPart,
        Used,
    )
}
_NAMES: Final = {name: tuple(f.name for f in fields(cls)) for name, cls in _CLASSES.items()}
_LARGEST: Final = 2**53
_LONG: Final = 24
_APART: Final = "\t"
"""Between the rows of a document, the names first: JSON has no tab of its own, and a row that nobody asks for is not read."""
_MASK, _MAP, _SET, _OBJECT, _AGAIN = "m", "d", "f", "o", "r"


class CompactError(ValueError):
    """The text is none that :func:`written` has made."""


_WRONG: Final = (ValueError, KeyError, TypeError, IndexError, AttributeError, RecursionError)


def written(parts: Mapping[str, object]) -> str:
    """Write networks, rooms or mappings of such things as text, each under its name."""
    writer = _Writer()
    body = {name: writer.of(value) for name, value in parts.items()}
    return _APART.join(json.dumps(row, separators=(",", ":")) for row in (body, *writer.table))


class Document:
    """What :func:`written` wrote; ``document[name]`` makes a part.

    Raises
    ------
    CompactError
        Here or where a part is asked for, if it is something else.
    """

    def __init__(self, text: bytes) -> None:
        try:
            body, *table = text.split(_APART.encode())
            self._body, self._reader = json.loads(body), _Reader(table)
        except _WRONG as error:
            raise _not_saved(error) from error

    def __getitem__(self, name: str) -> Any:  # noqa: ANN401
        """Make a part."""
        try:
            return self._reader.of(self._body[name])
        except _WRONG as error:
            raise _not_saved(error) from error


def _not_saved(error: Exception) -> CompactError:
    return CompactError(f"not a saved network: {type(error).__name__}")


class _Writer:
    """Turns values into JSON; long tuples, maps and objects that occur again are references into the table."""

    def __init__(self) -> None:
        self.table: list[object] = []
        self.known: dict[int, int] = {}
        self.kept: list[object] = []
        self.curves: dict[tuple[Any, ...], int] = {}

    def of(self, value: object) -> object:
        if value is None or isinstance(value, (bool, float, str)):
            return value
        if isinstance(value, int):
            return value if abs(value) < _LARGEST else {_MASK: format(value, "x")}
        if isinstance(value, frozenset):
            return {_SET: sorted(value)}
        if isinstance(value, (tuple, list)):
            return self._row(tuple(value))
        return self._again(value)

    def _row(self, row: tuple[Any, ...]) -> object:
        if len(row) < _LONG or not all(type(v) is int and abs(v) < _LARGEST for v in row):
            return [self.of(v) for v in row]
        if row not in self.curves:
            self.curves[row] = self._add([row[0], *(b - a for a, b in pairwise(row))])
        return {_AGAIN: self.curves[row]}

    def _again(self, value: object) -> object:
        """A map or an object, written once for as often as it occurs."""
        if id(value) not in self.known:
            self.kept.append(value)
            body = self._map(value) if hasattr(value, "items") else self._object(value)
            self.known[id(value)] = self._add(body)
        return {_AGAIN: self.known[id(value)]}

    def _map(self, value: Any) -> object:  # noqa: ANN401
        return {_MAP: [[self.of(key), self.of(v)] for key, v in value.items()]}

    def _object(self, value: object) -> object:
        name = type(value).__name__
        return {_OBJECT: name, "v": [self.of(getattr(value, field)) for field in _NAMES[name]]}

    def _add(self, body: object) -> int:
        self.table.append(body)
        return len(self.table) - 1


class _Reader:
    def __init__(self, table: list[bytes]) -> None:
        self.table = table
        self.made: dict[int, Any] = {}

    def of(self, value: Any) -> Any:  # noqa: ANN401
        if type(value) is list:
            return tuple([self.of(v) if type(v) in (list, dict) else v for v in value])
        return self._tagged(value) if type(value) is dict else value

    def _tagged(self, value: dict[str, Any]) -> Any:  # noqa: ANN401
        if _AGAIN in value:
            return self._once(value[_AGAIN])
        if _MASK in value:
            return int(value[_MASK], 16)
        if _SET in value:
            return frozenset(value[_SET])
        if _MAP in value:
            return {self.of(key): self.of(v) for key, v in value[_MAP]}
        return _CLASSES[value[_OBJECT]](*[self.of(v) for v in value["v"]])

    def _once(self, at: int) -> Any:  # noqa: ANN401
        if at not in self.made:
            body = json.loads(self.table[at])
            self.made[at] = self.of(body) if type(body) is dict else _curve(body)
        return self.made[at]


def _curve(steps: list[int]) -> tuple[int, ...]:
    return tuple(accumulate(steps))
