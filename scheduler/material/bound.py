"""Fewest packs of a product that any plan can open, and least that it spends on packs and purges.

Every film starts at least ``ceil(volume / usable)`` packs, and every start that does not open a pack costs a recap purge.
So ``n`` new packs serve films with ``t`` starts and ``v`` to spray only if

    n (full - heel) + begun >= v + n start + (t - n) recap.

Where a pack can go on from film to film without a purge the last term is left out. Small films also have to be cut to
fill packs to the brim, and each cut costs another purge: with ``n`` packs no more than ``cuts`` are paid for, and things
that are cut ``cuts`` times fit uncut into ``n + cuts`` bins, which cannot be fewer than L2. So many cuts are purged for too.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from scheduler.material.bin_packing import l2
from scheduler.material.entries import PPM
from scheduler.material.pack import Begun, PackSheet


@dataclass(frozen=True, slots=True)
class Least:
    """What no plan can go below for one product."""

    packs: int
    spent_ppm: int


def least_packs(volumes_ul: Sequence[int], sheet: PackSheet, begun_ul: Sequence[int] = ()) -> Least:
    """Bound the packs of one product.

    Parameters
    ----------
    volumes_ul : sequence of int
        Of each film.
    sheet : PackSheet
    begun_ul : sequence of int
        What is left in packs that stand opened, heels included.
    """
    recap_ul = 0 if sheet.goes_on else sheet.recap_ul
    most_ul = max(sheet.usable_ul, *(left - sheet.heel_ul - recap_ul for left in begun_ul), 1)
    starts = sum(-(-v // most_ul) for v in volumes_ul)
    given = sum(max(0, left - sheet.heel_ul) for left in begun_ul)
    needed = sum(volumes_ul) + starts * recap_ul - given
    packs = max(0, -(-needed // (sheet.usable_ul + recap_ul)))
    cuts = 0
    if recap_ul > 0:
        packs, cuts = _lifted(packs, [v for v in volumes_ul if v <= sheet.usable_ul], sheet, 2 * len(begun_ul))
    spent = (_spent_ppm(sheet, recap_ul, packs + more, starts + cuts - more) for more in (0, cuts))
    return Least(packs, min(spent) if volumes_ul else 0)


def _spent_ppm(sheet: PackSheet, recap_ul: int, packs: int, starts: int) -> int:
    """Packs and purges of so many starts, in millionths of a pack."""
    purged_ul = packs * sheet.start_ul + max(0, starts - packs) * recap_ul
    return PPM * packs + PPM * purged_ul // sheet.full_ul


def _lifted(packs: int, small_ul: list[int], sheet: PackSheet, begun: int) -> tuple[int, int]:
    """Raise a number of packs until the cuts that it pays for can make up for what L2 asks; ``begun`` bins are there already.

    The cuts that are needed then come with it; each pack more saves one of them.
    """
    bin_ul = sheet.usable_ul + sheet.recap_ul
    sizes = [v + sheet.recap_ul for v in small_ul]
    wanted, total = l2(sizes, bin_ul), sum(sizes)
    while packs + begun + max(0, (packs + begun) * bin_ul - total) // sheet.recap_ul < wanted:
        packs += 1
    return packs, max(0, wanted - packs - begun)


def least_of_all(films: Iterable[tuple[str, int]], sheets: Mapping[str, PackSheet], begun: Sequence[Begun]) -> dict[str, Least]:
    """Bound every product: ``films`` are pairs of product and volume."""
    volumes: dict[str, list[int]] = {product: [] for product in sheets}
    for product, volume_ul in films:
        volumes[product].append(volume_ul)
    return {
        product: least_packs(rows, sheets[product], [b.left_ul for b in begun if b.product == product])
        for product, rows in volumes.items()
    }
