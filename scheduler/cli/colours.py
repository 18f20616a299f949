"""Colours on a terminal, over words that say the same without them. ``NO_COLOR`` switches them off."""

from typing import Final

from rich.console import Console
from rich.highlighter import RegexHighlighter
from rich.theme import Theme

_STYLES: Final = {"bad": "bold red", "good": "green", "weak": "yellow", "head": "bold"}


class Standing(RegexHighlighter):
    """Marks the words that tell where an order, a rule or an installation stands."""

    base_style = "stand."
    highlights = [  # noqa: RUF012 - the library's own way
        r"(?P<bad>\b\d+ days? late\b|\b\d[\d,]* faults?\b|\brefused\b|\bmissing\b|Do not use this plan)",
        r"(?P<good>\b(?:\d+ days?|\d+ h(?: \d+ min)?|\d+ min) to spare\b|\bno faults\b|\ball \d+ rules hold\b|\bproven best\b)",
        r"(?P<weak>\btypical year\b|\bmay be improved\b|\bnot installed\b)",
    ]


def print_coloured(text: str) -> None:
    """Print a text whose letters are all plain; nothing in it is taken for markup."""
    console = Console(theme=Theme({f"stand.{name}": style for name, style in _STYLES.items()}), highlighter=Standing())
    console.print(text, markup=False, emoji=False, soft_wrap=True)
