"""Families of shops for benchmarks: the same name and seed give the same shop, and every shop has a schedule.

    shop = family("M-few-tight-indoor-large").shop(seed=1)

Sizes are 12 (S), 40 (M), 120 (L), 400 (XL) and 1000 (XXL) units. Bays, crew and equipment are sized so that the work fills about
six tenths of the horizon, so there is room at its end for whatever is late. In tight families orders come nearly as fast as the
shop can take them and are due soon after, so that the best schedule is late as well.
"""

from dataclasses import dataclass
from datetime import timedelta
from functools import cache
from itertools import product
from random import Random
from typing import Final

from scheduler.shop.shop import Shop
from tests.benchmarks.fleet import fleet
from tests.benchmarks.workshop import workshop
from tests.random_shop import MONDAY, random_shop

SEEDS: Final = tuple(range(1, 11))
"""Frozen: figures of different days stay comparable."""


@dataclass(frozen=True, slots=True)
class Size:
    """How many units over how many weeks, on which grid."""

    name: str
    units: int
    weeks: int
    grid_min: int = 15


SIZES: Final = {
    size.name: size
    for size in (Size("S", 12, 3), Size("M", 40, 4), Size("L", 120, 6), Size("XL", 400, 12), Size("XXL", 1000, 26, grid_min=5))
}


@dataclass(frozen=True, slots=True)
class Family:
    """Shops that are alike in what makes them hard.

    Attributes
    ----------
    few_types : bool
        Three kinds of units and no others; otherwise hardly two units are alike.
    tight : bool
        Due soon after arrival, in bursts.
    outdoor : bool
        Every coat waits for the weather; otherwise the coating bays are heated and dried.
    large : bool
        A coat takes several cartridges; otherwise a share of one.
    """

    size: Size
    few_types: bool
    tight: bool
    outdoor: bool
    large: bool

    @property
    def name(self) -> str:
        """Name such as ``M-few-tight-indoor-large``."""
        types, due = "few" if self.few_types else "many", "tight" if self.tight else "loose"
        return f"{self.size.name}-{types}-{due}-{'outdoor' if self.outdoor else 'indoor'}-{'large' if self.large else 'small'}"

    def shop(self, seed: int) -> Shop:
        """Build the shop of a seed."""
        random = Random(f"{self.name} {seed}")
        days = self.size.weeks * 7
        base = random_shop(0, 1)
        tables: dict[str, object] = {name: getattr(base, name) for name in Shop.model_fields}
        where: dict[str, bool] = {"outdoor": self.outdoor, "large": self.large}
        tables |= fleet(random, self.size.units, days, few_types=self.few_types, tight=self.tight, **where)
        tables |= workshop(random, self.size.units, days, **where)
        site = {
            "name": f"{self.name} {seed}",
            "plan_until": MONDAY + timedelta(days=days),
            "grid_min": self.size.grid_min,
            "yard_places": max(12, self.size.units // 2),
        }
        return Shop.model_validate(tables | {"site": base.site.model_copy(update=site)})


@cache
def families() -> dict[str, Family]:
    """Every family by name: five sizes, sixteen variants each."""
    both = (True, False)
    rows = (Family(size, *variant) for size in SIZES.values() for variant in product(both, repeat=4))
    return {row.name: row for row in rows}


def family(name: str) -> Family:
    """Return the family of a name.

    Raises
    ------
    KeyError
        If there is none; the message has the names of its size.
    """
    if name not in families():
        alike = [known for known in families() if known.startswith(name.split("-", 1)[0] + "-")] or [*families()]
        msg = f"no family {name}; there are {', '.join(alike)}"
        raise KeyError(msg)
    return families()[name]
