"""What a run of the benchmarks covers: the short form for every day, the full form for a night."""

from dataclasses import dataclass
from itertools import product
from typing import Final

from tests.benchmarks.families import SEEDS
from tests.benchmarks.methods import METHODS


@dataclass(frozen=True, slots=True)
class Part:
    """Families, seeds, seconds and methods that belong together."""

    families: tuple[str, ...]
    seeds: tuple[int, ...]
    limit_s: float
    methods: tuple[str, ...] = tuple(METHODS)

    def runs(self) -> list[tuple[str, int, float, str]]:
        """Family, seed, seconds and method of every run."""
        return [(name, seed, self.limit_s, method) for name, seed, method in product(self.families, self.seeds, self.methods)]


FITS_XL: Final = ("coatrun", "due date", "best of passes")
SHORT: Final = (
    Part(("S-many-tight-indoor-large", "S-few-tight-outdoor-small"), (1,), 10),
    Part(("M-few-tight-indoor-large", "M-many-tight-outdoor-small"), (1,), 20),
    Part(("L-many-tight-indoor-large",), (1,), 20),
    Part(("XL-few-tight-indoor-large",), (1,), 20, ("coatrun", "due date")),
)
_TIGHT: Final = tuple(
    f"{types}-tight-{where}-{coats}"
    for types, where, coats in product(("few", "many"), ("indoor", "outdoor"), ("large", "small"))
)
_LOOSE: Final = ("few-loose-indoor-large", "many-loose-outdoor-small")
FULL: Final = (
    Part(tuple(f"S-{v}" for v in (*_TIGHT, *_LOOSE)), SEEDS, 20),
    Part(tuple(f"M-{v}" for v in (*_TIGHT, *_LOOSE)), SEEDS, 20),
    Part(tuple(f"L-{v}" for v in (*_TIGHT, *_LOOSE)), SEEDS[:3], 20),
    Part(tuple(f"L-{v}" for v in _TIGHT), SEEDS[:3], 60, ("coatrun",)),
    Part(tuple(f"XL-{v}" for v in _TIGHT), SEEDS[:2], 180, FITS_XL),
    Part(("XXL-few-tight-indoor-large", "XXL-many-tight-indoor-small"), SEEDS[:1], 180, ("coatrun", "due date")),
)
