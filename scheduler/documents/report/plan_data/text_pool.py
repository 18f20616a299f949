"""Texts of a page, each kept once; rows hold the index of a text instead of the text."""


class TextPool:
    """Texts in the order in which they were first asked for; number 0 is the empty text."""

    def __init__(self) -> None:
        self._places: dict[str, int] = {"": 0}

    def __call__(self, text: str) -> int:
        """Index of a text, which is kept if it is new."""
        return self._places.setdefault(text, len(self._places))

    @property
    def texts(self) -> list[str]:
        """All texts, by index."""
        return list(self._places)
