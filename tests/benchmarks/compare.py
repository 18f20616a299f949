"""Runs of several methods on the same shops compared in pairs: differences, bootstrap intervals, times, failures."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import median
from typing import Final

import numpy as np

from tests.benchmarks.methods import OURS
from tests.benchmarks.one import Measured

DRAWS: Final = 10_000
Shop = tuple[str, int, float]
"""Family, seed and seconds: only runs that had the same time are compared."""


def size_of(family: str) -> str:
    """Size in the name of a family."""
    return family.split("-", maxsplit=1)[0]


def by_shop(rows: Iterable[Measured]) -> dict[Shop, dict[str, Measured]]:
    """Runs on the same shop with the same time, by method."""
    found: dict[Shop, dict[str, Measured]] = {}
    for row in rows:
        found.setdefault((row.family, row.seed, row.limit_s), {})[row.method] = row
    return found


def values(runs: dict[str, Measured]) -> dict[str, float]:
    """Weighted days late by method; a failure counts as the worst of those that did not fail."""
    done = {method: row.lateness for method, row in runs.items() if row.lateness is not None}
    worst = max(done.values(), default=None)
    return {} if worst is None else {method: done.get(method, worst) for method in runs}


@dataclass(frozen=True)
class Pairs:
    """Ours against one opponent, or against the best of them on each shop, over the shops of a size."""

    opponent: str
    shops: int
    ours: float
    theirs: float
    less_pct: float | None
    low_pct: float | None
    high_pct: float | None
    better: int
    equal: int


def pairs(rows: Sequence[Measured], size: str, limit_s: float) -> list[Pairs]:
    """Compare with each opponent and with the best of them."""
    shops = [values(runs) for shop, runs in by_shop(rows).items() if size_of(shop[0]) == size and shop[2] == limit_s]
    shops = [v for v in shops if OURS in v and len(v) > 1]
    opponents = list(dict.fromkeys(method for v in shops for method in v if method != OURS))
    found = [_pair(name, [(v[OURS], v[name]) for v in shops if name in v]) for name in opponents]
    best = [(v[OURS], min(value for method, value in v.items() if method != OURS)) for v in shops]
    return [*found, _pair("best of them", best)] if best else []


def _pair(opponent: str, both: list[tuple[float, float]]) -> Pairs:
    ours, theirs = np.array([a for a, _ in both]), np.array([b for _, b in both])
    low, high = _interval(ours, theirs)
    less = None if theirs.sum() == 0 else round(100 * (1 - ours.sum() / theirs.sum()), 1)
    better, equal = int((ours < theirs).sum()), int((ours == theirs).sum())
    return Pairs(opponent, len(both), float(ours.sum()), float(theirs.sum()), less, low, high, better, equal)


def _interval(ours: np.ndarray, theirs: np.ndarray) -> tuple[float | None, float | None]:
    """Interval of 95 % of the reduction in total lateness, by drawing shops with replacement; none for a single shop."""
    if len(ours) < 2:
        return None, None
    drawn = np.random.default_rng(1).integers(0, len(ours), (DRAWS, len(ours)))
    total = theirs[drawn].sum(axis=1)
    share = 1 - ours[drawn].sum(axis=1)[total > 0] / total[total > 0]
    if not len(share):
        return None, None
    low, high = np.quantile(share, (0.025, 0.975))
    return round(100 * float(low), 1), round(100 * float(high), 1)


@dataclass(frozen=True)
class Standing:
    """A method over the shops of a size."""

    size: str
    limit_s: float
    method: str
    shops: int
    failures: int
    lateness: float | None
    packs: float | None
    proven: int
    above_bound: float | None
    first_s: float | None
    near_best_s: float | None
    near_best: int
    peak_mb: float


def standings(rows: Sequence[Measured]) -> list[Standing]:
    """One row for each size, time limit and method, in the order in which they were run."""
    groups: dict[tuple[str, float, str], list[Measured]] = {}
    for row in rows:
        groups.setdefault((size_of(row.family), row.limit_s, row.method), []).append(row)
    shops = by_shop(rows)
    return [_standing(key, mine, shops) for key, mine in groups.items()]


def _standing(key: tuple[str, float, str], rows: list[Measured], shops: dict[Shop, dict[str, Measured]]) -> Standing:
    done = [row for row in rows if row.lateness is not None]
    counted = [values(shops[row.family, row.seed, row.limit_s]).get(row.method) for row in rows]
    bounds = {shop: max(row.bound for row in runs.values()) for shop, runs in shops.items()}
    above = [
        (row.lateness - bounds[row.family, row.seed, row.limit_s]) / row.total_weight for row in done if row.lateness is not None
    ]
    near = [near_best_s(row, shops[row.family, row.seed, row.limit_s]) for row in rows]
    reached = [at for at in near if at is not None]
    return Standing(
        *key,
        shops=len(rows),
        failures=len(rows) - len(done),
        lateness=_mean([v for v in counted if v is not None]),
        packs=_mean([row.packs for row in done if row.packs is not None]),
        proven=sum(row.lateness is not None and row.lateness <= row.bound for row in rows),
        above_bound=_mean(above, 2),
        first_s=_median([row.first_s for row in rows if row.first_s is not None]),
        near_best_s=_median(reached),
        near_best=len(reached),
        peak_mb=max(row.peak_mb for row in rows),
    )


def near_best_s(row: Measured, runs: dict[str, Measured]) -> float | None:
    """Seconds until a run was within one per cent of the best of all methods; None if it never was."""
    best = min((r.lateness for r in runs.values() if r.lateness is not None), default=None)
    if best is None or row.lateness is None:
        return None
    return next((at for at, lateness in row.progress if lateness <= best * 1.01), None)


def _mean(numbers: list[float], digits: int = 1) -> float | None:
    return round(sum(numbers) / len(numbers), digits) if numbers else None


def _median(numbers: list[float]) -> float | None:
    return round(median(numbers), 3) if numbers else None
