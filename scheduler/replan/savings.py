"""What one thing more saves against the shop as it is: what is proven of it, what two searches agree on, what may be luck."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import NamedTuple

from scheduler.search.value import Value


class Run(NamedTuple):
    """A plan that a search has found.

    ``unit_days`` are days from the plan's start until each unit is handed back, summed up: slots of two shops cannot be
    compared.
    """

    value: Value
    unit_days: float

    @property
    def goals(self) -> tuple[float, float, float]:
        """Weighted days late, packs and purges, unit days."""
        return float(self.value.lateness), self.value.spent_ppm / 1e6, self.unit_days


def rank(run: Run | None) -> tuple[float, ...]:
    """Less is better; nothing is worst."""
    return (1,) if run is None else (0, run.value.missing_ul, *run.goals)


@dataclass(frozen=True)
class Helped:
    """A shop planned on.

    Attributes
    ----------
    best : Run or None
        None where no plan was found.
    took_s : float
        Building the network, searching, bound.
    runs : tuple of Run
        Of every search.
    order : tuple of str
        Units by when their work begins.
    floor : int
        Weighted days late that no plan of this shop is below, proven.
    """

    name: str
    says: str
    best: Run | None
    took_s: float
    runs: tuple[Run, ...] = ()
    order: tuple[str, ...] = ()
    floor: int = 0

    @property
    def spread(self) -> tuple[float, ...]:
        """By how much its searches differ, goal by goal."""
        return tuple(max(row) - min(row) for row in zip(*(run.goals for run in self.runs), strict=True)) or (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Saving:
    """What a shop saves, goal by goal: weighted days late, packs and purges, unit days.

    Attributes
    ----------
    saved : tuple of float
        The best plan against the best plan of the shop as it is.
    luck : tuple of float
        By how much two searches of either shop differ: no saving up to that says anything.
    at_least, at_most : int
        Days late: what is proven to be saved against any plan of the shop as it is, and the most that can be saved of its best.
    """

    saved: tuple[float, ...]
    luck: tuple[float, ...]
    at_least: int
    at_most: int

    def may_be_luck(self, goal: int) -> bool:
        """Whether a saving is no larger than what two searches differ by, and not proven either."""
        return 0 < self.saved[goal] <= self.luck[goal] and not (goal == 0 and self.at_least > 0)


def saving(plain: Helped, row: Helped) -> Saving | None:
    """Compare a shop with the shop as it is; None where one of them has no plan."""
    if plain.best is None or row.best is None:
        return None
    saved = tuple(was - now for was, now in zip(plain.best.goals, row.best.goals, strict=True))
    luck = tuple(max(pair) for pair in zip(plain.spread, row.spread, strict=True))
    late = row.best.value.lateness
    return Saving(saved, luck, max(0, plain.floor - late), max(0, plain.best.value.lateness - row.floor))


def sorted_by_savings(plain: Helped, rows: Iterable[Helped]) -> list[Helped]:
    """Shops by what they save: what is proven first, then what is more than luck, then the rest.

    A shop that has more can do what the shop as it is does, whatever a search of it has found.
    """
    kept = [row if rank(row.best) <= rank(plain.best) else replace(row, best=plain.best) for row in rows]
    return sorted(kept, key=lambda row: _place(plain, row))


def _place(plain: Helped, row: Helped) -> tuple[float, ...]:
    found = saving(plain, row)
    if found is None:
        return (1, *rank(row.best))
    sure = [0.0 if found.may_be_luck(goal) else -saved for goal, saved in enumerate(found.saved)]
    return (0, -found.at_least, *sure, *rank(row.best))
