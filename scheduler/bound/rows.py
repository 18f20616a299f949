"""Rows of the relaxation: a resource over a stretch of a day holds no more than its capacity there."""

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np

from scheduler.bound.capacity import Amounts, Capacities


@dataclass
class Rows:
    """Rows as arrays that grow: first whole days of every resource, then shorter stretches where they are needed.

    Attributes
    ----------
    resource, first, last, capacity : arrays, shape (rows,)
        Slots ``first .. last - 1`` and the slot-amounts that there are.
    """

    capacities: Capacities
    resource: Amounts = field(init=False)
    first: Amounts = field(init=False)
    last: Amounts = field(init=False)
    capacity: Amounts = field(init=False)

    def __post_init__(self) -> None:
        """Begin with the days."""
        count, days = len(self.capacities.names), len(self.capacities.day_numbers)
        table = np.array(self.capacities.by_slot, dtype=np.int64).reshape(count, self.capacities.net.slots)
        self.stacked = np.zeros((count, table.shape[1] + 1), dtype=np.int64)
        np.cumsum(table, axis=1, out=self.stacked[:, 1:])
        self.resource = np.repeat(np.arange(count), days)
        self.first = np.tile(self.capacities.day_first[:-1], count)
        self.last = np.tile(self.capacities.day_first[1:], count)
        self.capacity = self.sums(self.stacked, 0)
        self._known = set(zip(self.resource.tolist(), self.first.tolist(), self.last.tolist(), strict=True))

    def __len__(self) -> int:
        """Return the number of rows."""
        return len(self.resource)

    def sums(self, stacked: Amounts, begin: int) -> Amounts:
        """Sum over each row from number ``begin`` on of amounts that are stacked by slot, shape (resources, n + 1)."""
        resource = self.resource[begin:]
        found: Amounts = stacked[resource, self.last[begin:]] - stacked[resource, self.first[begin:]]
        return found

    def add(self, stretches: Iterable[tuple[int, int, int]]) -> int:
        """Add stretches (resource, first, last) that are not there yet; return the number of rows before."""
        before = len(self)
        fresh = [s for s in dict.fromkeys(stretches) if s not in self._known]
        self._known.update(fresh)
        new = np.array(fresh, dtype=np.int64).reshape(-1, 3)
        self.resource = np.concatenate([self.resource, new[:, 0]])
        self.first = np.concatenate([self.first, new[:, 1]])
        self.last = np.concatenate([self.last, new[:, 2]])
        self.capacity = np.concatenate([self.capacity, self.sums(self.stacked, before)])
        return before

    def by_slot(self, price: Amounts) -> Amounts:
        """Price of each resource in each slot, shape (resources, n), from the prices of the rows."""
        count, n = self.stacked.shape[0], self.stacked.shape[1] - 1
        steps = np.zeros((count, n + 1), dtype=np.int64)
        np.add.at(steps, (self.resource, self.first), price)
        np.subtract.at(steps, (self.resource, self.last), price)
        found: Amounts = np.cumsum(steps, axis=1)[:, :n]
        return found
