"""Transient conduction in a finite cylinder: the product of an infinite cylinder and a plane wall.

Incropera, *Fundamentals of Heat and Mass Transfer*, ch. 5; Çengel, *Heat and Mass Transfer*, ch. 4 (from memory). The
series keep 60 terms: along the axis of a cartridge the Fourier number stays below .2, where one term alone is wrong.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np

from scheduler.physics.arrays import FloatArray
from scheduler.physics.ranges import require_not_negative, require_within

TERMS = 60
Where = Literal["core", "mean"]


@dataclass(frozen=True, slots=True, eq=False)
class Series:
    """Terms of one direction of conduction, as arrays of ``TERMS`` values.

    Attributes
    ----------
    root : array
        Eigenvalues z_n.
    core : array
        Coefficients C_n of the excess temperature on the axis or in the mid-plane.
    mean : array
        The same, averaged over the section.
    """

    root: FloatArray
    core: FloatArray
    mean: FloatArray

    def excess(self, fourier: float, where: Where = "core") -> float:
        """Share of the first temperature difference that is left, 1 at the start and 0 in the end.

        Parameters
        ----------
        fourier : float
            Fourier number of this direction, 0 or more.
        where : {"core", "mean"}
            On the axis (in the mid-plane), or as the average over the section.

        Raises
        ------
        OutOfRange
            When the Fourier number is negative.
        """
        require_not_negative("Fourier number", fourier)
        coefficient = self.core if where == "core" else self.mean
        # Sixty terms ripple about 1 in the first seconds: a body is never warmer than it began.
        return min(1.0, float(np.sum(coefficient * np.exp(-(self.root**2) * fourier))))


@lru_cache(maxsize=256)
def cylinder_series(biot: float) -> Series:
    """Terms of an infinite cylinder, roots of ``z J1(z) = Bi J0(z)``.

    Parameters
    ----------
    biot : float
        h R / k, from 1e-4 to 1e4.

    Raises
    ------
    OutOfRange
        When the Biot number lies outside that range.
    """
    from scipy.special import j0, j1, jn_zeros

    require_within("Biot number of the cylinder", biot, 1e-4, 1e4)
    low = np.concatenate(([0.0], jn_zeros(1, TERMS - 1)))
    root = _roots(low, jn_zeros(0, TERMS), lambda z: z * j1(z) - biot * j0(z))
    core = 2.0 / root * j1(root) / (j0(root) ** 2 + j1(root) ** 2)
    return Series(root, core, core * 2.0 * j1(root) / root)


@lru_cache(maxsize=256)
def wall_series(biot: float) -> Series:
    """Terms of a plane wall heated on both faces, roots of ``z tan z = Bi``.

    Parameters
    ----------
    biot : float
        h (L/2) / k, from 1e-4 to 1e4.

    Raises
    ------
    OutOfRange
        When the Biot number lies outside that range.
    """
    require_within("Biot number of the wall", biot, 1e-4, 1e4)
    low = np.arange(TERMS, dtype=np.float64) * np.pi
    root = _roots(low, low + np.float64(np.pi / 2.0), lambda z: z * np.sin(z) - biot * np.cos(z))
    core = 4.0 * np.sin(root) / (2.0 * root + np.sin(2.0 * root))
    return Series(root, core, core * np.sin(root) / root)


def _roots(low: FloatArray, high: FloatArray, function: Callable[[FloatArray], FloatArray]) -> FloatArray:
    """Bisect all brackets at once; each holds exactly one root."""
    at_high = np.sign(function(high))
    for _ in range(60):
        middle = 0.5 * (low + high)
        right_of_root = np.sign(function(middle)) == at_high
        low, high = np.where(right_of_root, low, middle), np.where(right_of_root, middle, high)
    return 0.5 * (low + high)
