"""Packs in whole microlitres: what one holds and loses, how long it keeps, and what a film step asks of it.

Times are slots of the work axis. Needs are rounded up and contents down, so that a ledger that closes here closes in
millilitres too.
"""

import math
from dataclasses import dataclass

UL_PER_ML = 1000
Slots = tuple[int, ...]


def at_most_ul(ml: float) -> int:
    """Whole microlitres that are certainly there."""
    return math.floor(ml * UL_PER_ML + 1e-6)


def at_least_ul(ml: float) -> int:
    """Whole microlitres that are certainly enough."""
    return math.ceil(ml * UL_PER_ML - 1e-6)


@dataclass(frozen=True, slots=True)
class PackSheet:
    """A pack of one product.

    Attributes
    ----------
    full_ul, heel_ul : int
        Content of a full pack, and the last of it that is never sprayed.
    start_ul, recap_ul : int
        To waste when a pack is opened, and when a recapped one is started again.
    lapses : tuple of int
        For the slot at which a pack is opened, the slot at which its last use must have ended.
    back : tuple of int
        For the slot at which a use ends, the first slot at which the pack can be used again: once it is warm, or at once
        where nothing is warmed.
    goes_on : bool
        Whether a gun may go from film to film with the same pack, without a stop and without a purge.
    """

    full_ul: int
    heel_ul: int
    start_ul: int
    recap_ul: int
    lapses: Slots
    back: Slots
    goes_on: bool = False

    @property
    def usable_ul(self) -> int:
        """What a new pack gives."""
        return self.full_ul - self.heel_ul - self.start_ul


@dataclass(frozen=True, slots=True)
class Film:
    """A film step as the ledger sees it.

    Attributes
    ----------
    key : int
        Number of the activity.
    loaded : int or None
        Last slot at which its cartridges go into the warmer; None where nothing is warmed.
    gun : str
        Named gun, empty where none is named yet.
    """

    key: int
    product: str
    start: int
    end: int
    volume_ul: int
    loaded: int | None = None
    gun: str = ""


@dataclass(frozen=True, slots=True)
class Lot:
    """New packs that may be used from slot ``first`` on, by work that ends at or before slot ``last``.

    They are numbered on from those that were ``opened_before``.
    """

    key: str
    product: str
    packs: int
    first: int
    last: int
    opened_before: int = 0


@dataclass(frozen=True, slots=True)
class Begun:
    """A pack that stands opened at the start: ``left_ul`` with its heel."""

    key: str
    lot: str
    product: str
    left_ul: int
    first: int
    last: int
