"""Lower bounds for packing things into bins of one size.

Source: Martello and Toth, Knapsack Problems (Wiley, 1990), section 8.3, bounds L1 and L2; from memory.
"""

from collections.abc import Sequence


def l1(sizes: Sequence[int], bin_size: int) -> int:
    """Bins that the sizes fill when everything may be cut."""
    return -(-sum(sizes) // bin_size)


def l2(sizes: Sequence[int], bin_size: int) -> int:
    """Bins that are needed when nothing may be cut.

    For a threshold ``k`` up to half a bin, things above ``bin - k`` take a bin each, things above half a bin another one
    each that has room for things from ``k`` to half a bin, and what does not fit into that room takes more. The largest
    value over all ``k`` counts; only ``k`` equal to one of the sizes, and 0, need to be tried.

    Parameters
    ----------
    sizes : sequence of int
        Positive, none above ``bin_size``.
    bin_size : int

    Returns
    -------
    int
        At least :func:`l1`.
    """
    half = bin_size / 2
    return max((_with(sizes, bin_size, k) for k in {0, *(s for s in sizes if s <= half)}), default=0)


def _with(sizes: Sequence[int], bin_size: int, k: int) -> int:
    whole = [s for s in sizes if s > bin_size - k]
    large = [s for s in sizes if bin_size / 2 < s <= bin_size - k]
    small = [s for s in sizes if k <= s <= bin_size / 2]
    over = sum(small) - (len(large) * bin_size - sum(large))
    return len(whole) + len(large) + max(0, -(-over // bin_size))
