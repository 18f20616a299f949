"""Faults of a shop folder: what is wrong, where, and what cures it. All of them are reported together."""

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Final

LONGEST_VALUE: Final = 60
_MOST_COMPARED: Final = 500


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault of a shop folder or workbook.

    Attributes
    ----------
    file : str
        File in the shop folder, or the workbook; the folder itself if the fault is there.
    row : int or None
        Line of the file or row of the sheet, the header is 1.
    column : str or None
        Column of the table, or key of the settings.
    value : str or None
        What stands there.
    problem, cure : str
        What is wrong, and what to do about it.
    sheet : str or None
        Sheet of a workbook; None for a file of a folder.
    """

    file: str
    row: int | None
    column: str | None
    value: str | None
    problem: str
    cure: str
    sheet: str | None = None

    def text(self) -> str:
        """Where, what stands there, what is wrong and the cure, in one line."""
        places = (
            self.file,
            f"sheet {self.sheet}" if self.sheet is not None else None,
            f"row {self.row}" if self.row is not None else None,
            f"column {self.column}" if self.column is not None else None,
            f"'{shortened(self.value)}'" if self.value is not None else None,
        )
        return f"{', '.join(p for p in places if p)}: {self.problem}. Cure: {self.cure}."


class BadInputError(ValueError):
    """A shop folder with faults.

    Attributes
    ----------
    faults : tuple of Fault
        All of them, by file and row.
    """

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__(self.text())

    def text(self, most: int = 200) -> str:
        """Give every fault a line of its own; past ``most`` lines only the number of those left."""
        count = len(self.faults)
        lines = [f"{count} fault{'s' if count != 1 else ''} in the shop folder"]
        lines += [fault.text() for fault in self.faults[:most]]
        if count > most:
            lines.append(f"and {count - most:,} more")
        return "\n".join(lines)


def shortened(value: str) -> str:
    """Value on one printable line of bounded length."""
    line = "".join(letter if letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in value[: LONGEST_VALUE + 1])
    return line if len(line) <= LONGEST_VALUE else f"{line[:LONGEST_VALUE]}..."


def nearest(word: str, known: Iterable[str], cutoff: float = 0.6) -> str | None:
    """Return the known word that somebody who wrote ``word`` most likely meant; None if none is near.

    Among more than 500 words only one that differs by case is looked for: comparing with all would take too long.
    """
    by_fold = {name.casefold(): name for name in known}
    fold = word.casefold()
    if fold in by_fold or len(by_fold) > _MOST_COMPARED:
        return by_fold.get(fold)
    found = get_close_matches(fold[:LONGEST_VALUE], by_fold, n=1, cutoff=cutoff)
    return by_fold[found[0]] if found else None


def choose(word: str, known: Iterable[str], otherwise: str) -> str:
    """Cure of an unknown word: the nearest known one or, if they are few, all of them, or else ``otherwise``."""
    names = sorted(set(known))
    meant = nearest(word, names)
    if meant is not None:
        return f"write {meant} if that is meant, or {otherwise}"
    return f"use one of {', '.join(names)}, or {otherwise}" if 0 < len(names) <= 8 else otherwise
