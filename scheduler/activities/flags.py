"""Masks as arrays of flags and back; apart from the masks, so that what needs no arrays does not load what makes them."""

import numpy as np
from numpy.typing import NDArray

from scheduler.activities.masks import below


def mask_of(flags: NDArray[np.bool_]) -> int:
    """Pack an array of flags, shape (n,), into a mask; flag ``i`` becomes bit ``i``."""
    return int.from_bytes(np.packbits(flags, bitorder="little").tobytes(), "little")


def flags_of(mask: int, n: int) -> NDArray[np.bool_]:
    """Unpack the first ``n`` bits of a mask into flags, shape (n,)."""
    raw = np.frombuffer((mask & below(n)).to_bytes((n + 7) // 8, "little"), dtype=np.uint8)
    return np.unpackbits(raw, bitorder="little", count=n).astype(bool)
