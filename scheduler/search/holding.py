"""What a placed unit takes, in sum: one entry for each worker, pool, place and air space."""

from dataclasses import dataclass, field


@dataclass(slots=True)
class Holding:
    """What a unit takes, added up over its steps.

    Attributes
    ----------
    hours : dict of worker to mask
    worn : dict of worker to dict of day to slots
        Time under a respirator.
    pools : dict of (pool, amount) to mask
    more : list of (pool, amount, mask)
        Uses of a pool at the same time as others of the same unit.
    taken : dict of pool to mask
        Slots in which the unit uses a pool at all.
    bays : list of (class, mask)
    dust, vapour : dict of air space to mask
    """

    hours: dict[int, int] = field(default_factory=dict)
    worn: dict[int, dict[int, int]] = field(default_factory=dict)
    pools: dict[tuple[int, int], int] = field(default_factory=dict)
    more: list[tuple[int, int, int]] = field(default_factory=list)
    taken: dict[int, int] = field(default_factory=dict)
    bays: list[tuple[int, int]] = field(default_factory=list)
    dust: dict[int, int] = field(default_factory=dict)
    vapour: dict[int, int] = field(default_factory=dict)
    overtime: int = 0

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
