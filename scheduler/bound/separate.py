"""Where a solution of the relaxation crowds a part of a day: stretches that take more than there is."""

import numpy as np
from numpy.typing import NDArray

from scheduler.bound.capacity import Capacities

PARTS = (2, 4, 8, 16, 32)
"""Parts into which a day is cut to look for crowds."""
LEAST_EXCESS = 0.02


def crowded(capacities: Capacities, taken: NDArray[np.float64], most: int) -> list[tuple[int, int, int]]:
    """Find the most crowded stretches.

    Parameters
    ----------
    capacities : Capacities
    taken : array, shape (resources, n)
        What the solution takes in each slot.
    most : int
        How many stretches to return at most.

    Returns
    -------
    list of (resource, first slot, slot after the last)
        The most crowded first; stretches of one resource do not overlap.
    """
    table = np.array(capacities.by_slot, dtype=np.float64).reshape(taken.shape)
    taken = taken.copy()
    taken[sorted(capacities.by_day)] = 0.0
    found: list[tuple[float, int, int, int]] = []
    for parts in PARTS:
        first = _cuts(capacities, parts)
        last = np.append(first[1:], taken.shape[1])
        excess = np.add.reduceat(taken - table, first, axis=1)
        share = excess / np.maximum(np.add.reduceat(table, first, axis=1), 1.0)
        for r, k in np.argwhere(share > LEAST_EXCESS):
            hours = share[r, k] * (last[k] - first[k])
            found.append((float(hours), int(r), int(first[k]), int(last[k])))
    return _apart(sorted(found, key=lambda row: (-row[0], *row[1:])), most)


def _cuts(capacities: Capacities, parts: int) -> NDArray[np.int64]:
    edges = [
        np.linspace(a, b, parts, endpoint=False) for a, b in zip(capacities.day_first[:-1], capacities.day_first[1:], strict=True)
    ]
    return np.unique(np.concatenate(edges).astype(np.int64))


def _apart(found: list[tuple[float, int, int, int]], most: int) -> list[tuple[int, int, int]]:
    chosen: dict[int, list[tuple[int, int]]] = {}
    result: list[tuple[int, int, int]] = []
    for _, resource, first, last in found:
        mine = chosen.setdefault(resource, [])
        if all(last <= a or b <= first for a, b in mine):
            mine.append((first, last))
            result.append((resource, first, last))
        if len(result) == most:
            break
    return result
