"""A list for the store: lines under headings."""

from dataclasses import dataclass
from datetime import date
from itertools import groupby
from operator import attrgetter


@dataclass(frozen=True, slots=True)
class Pick:
    """One line of the list.

    Attributes
    ----------
    group : str
        Heading that it stands under.
    item : str
    amount : int or float
        In ``unit``.
    unit : str
        Unit of the amount, as in CSV: ``pieces`` or ``mL``.
    shown : str
        Amount as people read it.
    source : str
        Lot or opened pack; empty for what has none.
    note : str
    """

    group: str
    item: str
    amount: float
    unit: str
    shown: str
    source: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class PickList:
    """What a day needs from the store."""

    day: date
    picks: tuple[Pick, ...]

    def groups(self) -> tuple[tuple[str, tuple[Pick, ...]], ...]:
        """Lines by heading, in the order of the list."""
        return tuple((group, tuple(picks)) for group, picks in groupby(self.picks, key=attrgetter("group")))
