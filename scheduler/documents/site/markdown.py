"""Words in Markdown: nothing in them becomes markup."""

from collections.abc import Iterable, Sequence
from typing import Final

_SAFE: Final = str.maketrans({letter: f"&#{ord(letter)};" for letter in "&<>|*_[`~"})


def cell(text: str) -> str:
    """Text on one line that stands in a cell or a paragraph as it is."""
    return " ".join(text.split()).translate(_SAFE)


def table(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table; cells are Markdown already."""
    lines = [columns, ["---"] * len(columns), *rows]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)
