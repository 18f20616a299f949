"""Which names could turn the direction of the text around them."""

import unicodedata
from typing import Final

_RIGHT_TO_LEFT: Final = frozenset({"R", "AL", "AN"})
ISOLATE: Final = "\u2068"
END_ISOLATE: Final = "\u2069"
_CONTROLS: Final = frozenset({"RLE", "RLO", "LRE", "LRO", "RLI", "LRI", "FSI", "PDF", "PDI"})


def turns_direction(text: str) -> bool:
    """Tell whether a text holds letters or marks that run right to left, or controls of direction (UAX #9)."""
    return not text.isascii() and any(unicodedata.bidirectional(c) in _RIGHT_TO_LEFT | _CONTROLS for c in text)


def without_controls(text: str) -> str:
    """Take the controls of direction out of a text; its letters keep their own direction."""
    if text.isascii():
        return text
    return "".join(c for c in text if unicodedata.bidirectional(c) not in _CONTROLS)


def set_apart(text: str) -> str:
    """Wrap a name that runs right to left in an isolate, so that it cannot turn its neighbours; others stay as they are."""
    return f"{ISOLATE}{without_controls(text)}{END_ISOLATE}" if turns_direction(text) else text
