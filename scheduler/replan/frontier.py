"""What lateness can be had for how many moved units: the best solution found for each number, as far as more moves gain."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from scheduler.activities.placed import Placed

Row = TypeVar("Row")


@dataclass(frozen=True, slots=True)
class Point:
    """A solution: units moved, weighted days late, and the energy that tells it from others alike."""

    moved: int
    lateness: int
    energy: float
    placed: Placed


class Frontier:
    """Points of which none is worse than another in both numbers."""

    def __init__(self) -> None:
        self.points: list[Point] = []

    def note(self, moved: int, lateness: int, energy: float, placed: Callable[[], Placed]) -> None:
        """Take a solution in if nothing is at least as good in both numbers; what it beats goes."""
        for point in self.points:
            if point.moved <= moved and point.lateness <= lateness:
                alike = (point.moved, point.lateness) == (moved, lateness)
                if not alike or point.energy <= energy:
                    return
        rest = [point for point in self.points if point.moved < moved or point.lateness < lateness]
        self.points = sorted([*rest, Point(moved, lateness, energy, placed())], key=lambda point: point.moved)

    def take(self, other: "Frontier") -> None:
        """Take the points of another one in."""
        for point in other.points:
            self.note(point.moved, point.lateness, point.energy, lambda p=point: p.placed)  # type: ignore[misc]


def thinned(rows: Sequence[Row], most: int) -> list[Row]:
    """Return at most so many of a sequence's rows: the first, the last, and some evenly between."""
    if len(rows) <= most:
        return list(rows)
    return [rows[round(k * (len(rows) - 1) / (most - 1))] for k in range(most)]
