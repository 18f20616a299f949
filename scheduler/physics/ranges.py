"""What a formula is valid for, and the refusal when a value lies outside it.

Nearly every value is one number from a table, and good: that is seen before an array is made of it.
"""

from math import inf, isfinite

import numpy as np

from scheduler.physics.arrays import FloatArray


class OutOfRange(ValueError):  # noqa: N818  (reads as a sentence where it is raised and caught)
    """A value lies outside the range in which a formula may be used.

    Attributes
    ----------
    quantity : str
        What was out of range, with its unit, as a person would read it.
    value : float
        The first offending value.
    valid_range : str
        The range that the formula accepts.
    """

    def __init__(self, quantity: str, value: float, valid_range: str) -> None:
        self.quantity = quantity
        self.value = value
        self.valid_range = valid_range
        super().__init__(quantity, value, valid_range)

    def __str__(self) -> str:
        """Quantity, value and range in one line."""
        return f"{self.quantity} is {self.value:g}, outside {self.valid_range}"


def require_within(quantity: str, value: float | FloatArray, low: float, high: float) -> None:
    """Refuse values outside the closed range ``low`` to ``high``; nan and infinities are always outside.

    Raises
    ------
    OutOfRange
        Naming the first value that is outside.
    """
    if isinstance(value, float) and low <= value <= high and isfinite(value):
        return
    _refuse(quantity, value, _finite(value) & (np.asarray(value) >= low) & (np.asarray(value) <= high), f"{low:g} to {high:g}")


def require_positive(quantity: str, value: float | FloatArray) -> None:
    """Refuse values that are not finite and above zero.

    Raises
    ------
    OutOfRange
        Naming the first value that is not positive.
    """
    if isinstance(value, float) and 0.0 < value < inf:
        return
    _refuse(quantity, value, _finite(value) & (np.asarray(value) > 0), "above 0")


def require_not_negative(quantity: str, value: float | FloatArray) -> None:
    """Refuse values that are not finite or below zero.

    Raises
    ------
    OutOfRange
        Naming the first value that is negative.
    """
    if isinstance(value, float) and 0.0 <= value < inf:
        return
    _refuse(quantity, value, _finite(value) & (np.asarray(value) >= 0), "0 or more")


def _finite(value: float | FloatArray) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
    return np.asarray(np.isfinite(np.asarray(value, dtype=np.float64)))


def _refuse(
    quantity: str, value: float | FloatArray, good: np.ndarray[tuple[int, ...], np.dtype[np.bool_]], valid_range: str
) -> None:
    if not good.all():
        raise OutOfRange(quantity, float(np.asarray(value, dtype=np.float64)[~good].flat[0]), valid_range)
