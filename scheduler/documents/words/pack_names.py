"""Names of packs in words: those that follow one another in a lot are named from the first to the last."""

import re
from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import Final

_NUMBERED: Final = re.compile(r"(?P<lot>.+)#(?P<number>\d+)")


def pack_names(ids: Iterable[str]) -> tuple[str, ...]:
    """Name packs in their order, those of one lot after one another together: ``LN-131#012 to #015, #019``.

    Packs that stood opened keep their own name.
    """
    names = list(dict.fromkeys(ids))
    return tuple(name for _, group in groupby(names, key=_lot) for name in _named(list(group)))


def number_runs(numbers: Iterable[int]) -> str:
    """Name numbers: ``1 to 4, 7``."""
    runs = (list(run) for _, run in groupby(enumerate(sorted(set(numbers))), key=lambda pair: pair[1] - pair[0]))
    return ", ".join(_from_to(str(run[0][1]), str(run[-1][1]), len(run)) for run in runs)


def _lot(name: str) -> str:
    """Lot of a numbered pack; another pack is on its own."""
    found = _NUMBERED.fullmatch(name)
    return found["lot"] if found else f" {name}"


def _named(names: list[str]) -> Iterator[str]:
    """One text for numbered packs of one lot."""
    parts = [name.rpartition("#") for name in names]
    if not _NUMBERED.fullmatch(names[0]):
        yield from names
        return
    runs = [list(run) for _, run in groupby(enumerate(parts), key=lambda pair: int(pair[1][2]) - pair[0])]
    texts = [_from_to(f"#{run[0][1][2]}", f"#{run[-1][1][2]}", len(run)) for run in runs]
    yield parts[0][0] + ", ".join(texts)


def _from_to(first: str, last: str, count: int) -> str:
    return first if count == 1 else f"{first} to {last}" if count > 2 else f"{first}, {last}"
