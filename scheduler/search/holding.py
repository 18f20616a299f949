"""What a placed unit takes, in sum: one entry for each worker, pool, place and air space."""

from dataclasses import dataclass, field

from scheduler.search.planes import Planes


@dataclass(slots=True)
class Holding:
    """What a unit takes, added up over its steps.

    Attributes
    ----------
    runs : list of (worker, start, end)
    worn : dict of worker to dict of day to slots
        Time under a respirator.
    pools : dict of (pool, amount) to mask
    more : list of (pool, amount, mask)
        Uses of a pool at the same time as others of the same unit.
    taken : dict of pool to mask
        Slots in which the unit uses a pool at all.
    bays : list of (class, mask)
    dust, vapour : dict of air space to mask
    free : list of (stretch, worker, mask)
        Once entered: entries of :class:`~scheduler.search.hours.Hours` that it changes.
    sums : list of (row, key, amount)
        Once entered: plain numbers that it changes.
    counters : list of (row, key, amount, mask)
        Once entered: counters that it changes.
    """

    runs: list[tuple[int, int, int]] = field(default_factory=list)
    worn: dict[int, dict[int, int]] = field(default_factory=dict)
    pools: dict[tuple[int, int], int] = field(default_factory=dict)
    more: list[tuple[int, int, int]] = field(default_factory=list)
    taken: dict[int, int] = field(default_factory=dict)
    bays: list[tuple[int, int]] = field(default_factory=list)
    dust: dict[int, int] = field(default_factory=dict)
    vapour: dict[int, int] = field(default_factory=dict)
    free: list[tuple[int, int, int]] = field(default_factory=list)
    sums: list[tuple[list[int] | dict[int, int], int, int]] = field(default_factory=list)
    counters: list[tuple[list[Planes], int, int, int]] = field(default_factory=list)

    def take(self, pool: int, amount: int, mask: int) -> None:
        """Add a use of a pool."""
        taken = self.taken.get(pool, 0)
        if taken & mask:
            self.more.append((pool, amount, mask))
        else:
            self.pools[pool, amount] = self.pools.get((pool, amount), 0) | mask
        self.taken[pool] = taken | mask

    def uses(self) -> list[tuple[int, int, int]]:
        """All uses of pools."""
        return [(pool, amount, mask) for (pool, amount), mask in self.pools.items()] + self.more
