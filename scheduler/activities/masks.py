"""Masks: a bit a slot in one Python integer, so that a calendar of months is tested in a few machine operations."""

from collections.abc import Iterable, Mapping

Masks = Mapping[int, int]
"""A mask for each class of bays."""


def span(start: int, end: int) -> int:
    """Mask of the slots ``start .. end - 1``."""
    return ((1 << (end - start)) - 1) << start if end > start else 0


def below(end: int) -> int:
    """Mask of the slots before ``end``."""
    return (1 << end) - 1 if end > 0 else 0


def union(masks: Iterable[int]) -> int:
    """Slots that are in any of the masks."""
    found = 0
    for mask in masks:
        found |= mask
    return found


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


def within(table: Masks, mask: int) -> Masks:
    """Cut every mask of a table; those that are one object stay one."""
    cut = {id(each): each & mask for each in {id(m): m for m in table.values()}.values()}
    return {c: cut[id(each)] for c, each in table.items()}
