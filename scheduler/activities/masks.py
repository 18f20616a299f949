"""Masks: a bit a slot in one Python integer, so that a calendar of months is tested in a few machine operations."""

import numpy as np
from numpy.typing import NDArray


def mask_of(flags: NDArray[np.bool_]) -> int:
    """Pack an array of flags, shape (n,), into a mask; flag ``i`` becomes bit ``i``."""
    return int.from_bytes(np.packbits(flags, bitorder="little").tobytes(), "little")


def flags_of(mask: int, n: int) -> NDArray[np.bool_]:
    """Unpack the first ``n`` bits of a mask into flags, shape (n,)."""
    raw = np.frombuffer((mask & below(n)).to_bytes((n + 7) // 8, "little"), dtype=np.uint8)
    return np.unpackbits(raw, bitorder="little", count=n).astype(bool)


def span(start: int, end: int) -> int:
    """Mask of the slots ``start .. end - 1``."""
    return ((1 << (end - start)) - 1) << start if end > start else 0


def below(end: int) -> int:
    """Mask of the slots before ``end``."""
    return (1 << end) - 1 if end > 0 else 0


def runs(mask: int, length: int) -> int:
    """Slots at which a run of ``length`` set bits starts; by doubling, in about ``log2(length)`` shifts."""
    have = 1
    while have < length:
        step = min(have, length - have)
        mask &= mask >> step
        have += step
    return mask


def lowest(mask: int) -> int:
    """Lowest set bit of a mask that is not empty."""
    return (mask & -mask).bit_length() - 1


def highest(mask: int) -> int:
    """Highest set bit of a mask that is not empty."""
    return mask.bit_length() - 1


def bits(mask: int) -> list[int]:
    """All set bits, ascending."""
    found = []
    while mask:
        low = mask & -mask
        found.append(low.bit_length() - 1)
        mask ^= low
    return found
