"""Ways to have served the films of a product so far; what leads on from one is written out only if it is kept."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from scheduler.material.pack import Film


@dataclass(frozen=True, slots=True, eq=False)
class Held:
    """A pack that stands opened; ``worth`` in millionths of a pack, ``alike`` a number that packs in the same state share."""

    left_ul: int
    free: int
    last: int
    first: int
    key: str
    worth: int
    alike: int


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """One way to have served the films so far; ``before`` and ``took`` lead back to the first.

    Attributes
    ----------
    spent : int
        Millionths of a pack.
    taken : tuple of int
        Packs opened of each lot.
    worth, alike : int
        Sums over the packs held; two ways that leave packs in the same states have the same ``alike``.
    lapse : int
        Slot at which the first of the packs held lapses.
    beyond : tuple of (end, slots)
        Warmer slots taken for leftovers beyond those that films have reserved, and until when.
    """

    spent: int
    held: tuple[Held, ...]
    taken: tuple[int, ...]
    worth: int
    alike: int
    lapse: int
    before: "Way | None" = None
    film: int = -1
    took: tuple[str, ...] = ()
    beyond: tuple[tuple[int, int], ...] = ()

    def warming(self, loaded: int | None) -> int:
        """Warmer slots that are taken for leftovers when a film's packs are loaded."""
        return 0 if loaded is None else sum(slots for end, slots in self.beyond if end > loaded)

    def at(self, start: int) -> "Way":
        """Return the same at a slot: packs that have lapsed by then are gone."""
        if self.lapse > start:
            return self
        held = tuple(h for h in self.held if h.last > start)
        worth, alike = sum(h.worth for h in held), sum(h.alike for h in held)
        return replace(self, held=held, worth=worth, alike=alike, lapse=_lapse(held))

    def path(self) -> Iterator[tuple[int, tuple[str, ...]]]:
        """Yield film and packs taken, back to the first film."""
        at: Way | None = self
        while at is not None and at.before is not None:
            yield at.film, at.took
            at = at.before


class Next:
    """A way on from another: packs that the film takes go, what it leaves in them comes."""

    __slots__ = ("alike", "before", "beyond", "came", "film", "spent", "taken", "took", "worth")

    def __init__(
        self,
        before: Way,
        film: Film,
        spent: int,
        taken: tuple[int, ...],
        took: tuple[Held, ...],
        came: tuple[Held, ...],
        beyond: int,
    ) -> None:
        self.before, self.film, self.spent, self.taken, self.took, self.came = before, film, spent, taken, took, came
        self.beyond = beyond
        worth, alike = before.worth, before.alike
        for pack in took:
            worth, alike = worth - pack.worth, alike - pack.alike
        for pack in came:
            worth, alike = worth + pack.worth, alike + pack.alike
        self.worth, self.alike = worth, alike

    def way(self) -> Way:
        """Write it out."""
        gone, before = {id(pack) for pack in self.took}, self.before
        held = (*(h for h in before.held if id(h) not in gone), *self.came) if gone else (*before.held, *self.came)
        lapse = min([before.lapse, *(pack.last for pack in self.came)])
        names = tuple(pack.key for pack in self.took)
        return Way(self.spent, held, self.taken, self.worth, self.alike, lapse, before, self.film.key, names, self._warming())

    def _warming(self) -> tuple[tuple[int, int], ...]:
        film, before = self.film, self.before.beyond
        still = tuple(row for row in before if row[0] > (film.loaded or 0)) if before else ()
        return (*still, (film.end, self.beyond)) if self.beyond else still


def first_way(held: tuple[Held, ...], lots: int) -> Way:
    """Return the way before the first film: nothing is taken of the lots."""
    return Way(0, held, (0,) * lots, sum(h.worth for h in held), sum(h.alike for h in held), _lapse(held))


def _lapse(held: tuple[Held, ...]) -> int:
    return min((h.last for h in held), default=1 << 60)
