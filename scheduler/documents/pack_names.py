"""Names of packs in words: those that follow one another in a lot are named from the first to the last."""

import re
from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import Final

_NUMBERED: Final = re.compile(r"(?P<lot>.+)#(?P<number>\d+)")


def pack_names(ids: Iterable[str]) -> tuple[str, ...]:
    """Name packs: ``LN-131#012 to #015``; packs that stood opened keep their own name."""
    return tuple(_runs(list(dict.fromkeys(ids))))


def number_runs(numbers: Iterable[int]) -> str:
    """Name numbers: ``1 to 4, 7``."""
    runs = (list(run) for _, run in groupby(enumerate(sorted(set(numbers))), key=lambda pair: pair[1] - pair[0]))
    return ", ".join(_from_to(str(run[0][1]), str(run[-1][1]), len(run)) for run in runs)


def _runs(ids: list[str]) -> Iterator[str]:
    named = [(name, found) for name in ids if (found := _NUMBERED.fullmatch(name))]
    yield from (name for name in ids if not _NUMBERED.fullmatch(name))
    key = [(found["lot"], int(found["number"]) - place, name, found["number"]) for place, (name, found) in enumerate(named)]
    for _, run in groupby(key, key=lambda row: row[:2]):
        rows = list(run)
        yield _from_to(rows[0][2], f"#{rows[-1][3]}", len(rows))


def _from_to(first: str, last: str, count: int) -> str:
    return first if count == 1 else f"{first} to {last}" if count > 2 else f"{first}, {last}"
