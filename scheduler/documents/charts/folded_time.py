"""A time axis for pictures: hours in which somebody is there have their full width, longer closed times are narrow."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

HOUR_MS: Final = 3_600_000
FOLDED_FROM_MS: Final = 2 * HOUR_MS
FOLDED_WIDTH_MS: Final = HOUR_MS * 5 // 4
Stretch = tuple[int, int]


@dataclass(frozen=True)
class FoldedTime:
    """Map from wall time in milliseconds to places from 0 to 1, straight between its knots."""

    knots_ms: tuple[int, ...]
    places: tuple[float, ...]

    def place(self, moment_ms: float) -> float:
        """Place of a moment; what lies outside is at the near end."""
        return float(np.interp(moment_ms, self.knots_ms, self.places))


def folded_time(start_ms: int, end_ms: int, closed: Sequence[Stretch]) -> FoldedTime:
    """Map a stretch in which the closed stretches, if they are long, take little room."""
    knots, places = [start_ms], [0.0]
    long = [
        (max(a, start_ms), min(b, end_ms), b - a) for a, b in closed if b - a >= FOLDED_FROM_MS and a < end_ms and b > start_ms
    ]
    for first, last, whole in sorted(long):
        knots += [first, last]
        places += [places[-1] + first - knots[-3], 0.0]
        places[-1] = places[-2] + (last - first) * min(1.0, FOLDED_WIDTH_MS / whole)
    knots.append(end_ms)
    places.append(places[-1] + end_ms - knots[-2])
    return FoldedTime(tuple(knots), tuple(place / places[-1] for place in places))
