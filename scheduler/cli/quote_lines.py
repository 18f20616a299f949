"""The lines of a quote as they are typed, 5xH1: every fault of all of them is told at once."""

import re
from collections.abc import Mapping, Sequence
from typing import Final

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.shop.faults import nearest, shortened

_LINE: Final = re.compile(r"(?P<count>\d{1,9})\s*[xX*]\s*(?P<unit>.+)")
MOST_UNITS: Final = 200
_SOME: Final = 8


def counts_of(lines: Sequence[str], kinds: Mapping[str, str], names: Mapping[str, str]) -> dict[str, int]:
    """Units asked for, by the unit of the shop that they are like.

    Parameters
    ----------
    lines : sequence of str
    kinds : Mapping of str to str
        Units that the shop knows.
    names : Mapping of str to str
        What people call them; the first of a name may be meant by it.

    Raises
    ------
    Failed
        With every fault, its value and its cure.
    """
    counts: dict[str, int] = {}
    faults: list[tuple[ExitCode, str]] = []
    for line in lines:
        found = _LINE.fullmatch(line.strip())
        if found is None:
            faults.append((ExitCode.USAGE, f"'{shortened(line)}': write a count and a unit that the new ones are like: 5xH1"))
            continue
        count, word = int(found["count"]), found["unit"].strip()
        unit = _unit(word, kinds, names)
        if unit is None:
            faults.append((ExitCode.BAD_INPUT, f"'{shortened(word)}': {_unknown(word, kinds, names)}"))
        elif not count:
            faults.append((ExitCode.USAGE, f"'{shortened(line)}': ask for at least one, or leave the line out"))
        else:
            counts[unit] = counts.get(unit, 0) + count
    total = sum(counts.values())
    if total > MOST_UNITS:
        faults.append(
            (ExitCode.USAGE, f"{total} units: ask for 1 to {MOST_UNITS} at once; a larger request is planned as an order")
        )
    if faults:
        raise Failed(max(code for code, _ in faults), "\n".join(f"coatrun: {says}" for _, says in faults))
    return counts


def _unit(word: str, kinds: Mapping[str, str], names: Mapping[str, str]) -> str | None:
    """A unit by its id, or the first of a name."""
    if word in kinds:
        return word
    return next((unit for unit, name in names.items() if name.casefold() == word.casefold()), None)


def _unknown(word: str, kinds: Mapping[str, str], names: Mapping[str, str]) -> str:
    meant = nearest(word, [*kinds, *names.values()])
    one_a_kind = sorted(set(kinds.values()))
    some = ", ".join(one_a_kind[:_SOME]) + (" ..." if len(one_a_kind) > _SOME else "")
    perhaps = f"write {meant} if that is meant, or " if meant else ""
    return f"the shop has no such unit; {perhaps}name one that the new ones are like: {some}"
