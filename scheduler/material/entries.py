"""What a cartridge ledger holds: entries by film and pack, films that starve, and what it comes to."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from scheduler.material.pack import PackSheet

PPM = 1_000_000
Begins = Literal["opened", "resumed", "continued"]


@dataclass(frozen=True, slots=True)
class Habit:
    """How opened packs are chosen: how many may stand opened, and whether the smallest that will do goes first."""

    keep: int = 2
    best_fit: bool = False


@dataclass(frozen=True, slots=True)
class Passed:
    """An opened pack that a film did not take, and why.

    ``why`` is ``in use`` or ``not warm again`` (until ``slot``), ``lapsed``, ``no warm slot``, or ``kept``: it would have
    cost one more mixer and purge without saving a new pack.
    """

    pack: str
    why: str
    slot: int


@dataclass(frozen=True, slots=True)
class Entry:
    """What one pack gives to one film, in microlitres.

    Attributes
    ----------
    begins : str
        ``opened``, ``resumed`` or ``continued``.
    loaded : int or None
        Slot at which it goes into a warmer.
    passed, passed_more : tuple of Passed, int
        For a pack opened anew, those that stood opened: some with the reason, and how many there were more.
    """

    film: int
    product: str
    pack: str
    lot: str
    begins: Begins
    purge_ul: int
    sprayed_ul: int
    left_ul: int
    loaded: int | None
    passed: tuple[Passed, ...] = ()
    passed_more: int = 0


@dataclass(frozen=True, slots=True)
class Short:
    """A film for which nothing in date is left, and what it lacks."""

    film: int
    product: str
    missing_ul: int


@dataclass(frozen=True, slots=True)
class Ledger:
    """All entries in the order of time, and the films that starve."""

    entries: tuple[Entry, ...]
    shorts: tuple[Short, ...]

    def spent_ppm(self, sheets: Mapping[str, PackSheet]) -> int:
        """Packs opened anew and what went to waste at starts, in millionths of a pack."""
        opened = PPM * sum(entry.begins == "opened" for entry in self.entries)
        return opened + sum(-(-PPM * entry.purge_ul // sheets[entry.product].full_ul) for entry in self.entries)

    def missing_ul(self) -> int:
        """What is lacking over all films."""
        return sum(short.missing_ul for short in self.shorts)
