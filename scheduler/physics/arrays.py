"""Array types of the package, and functions that answer a float with a float and an array with an array."""

from typing import TypeVar, cast

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

Values = TypeVar("Values", float, FloatArray)
"""One float, or an array of floats: all arguments of a call are of one kind, and so is the answer."""


def as_given(template: Values, result: object) -> Values:
    """Give a result computed with numpy the kind of the argument that it came from.

    Parameters
    ----------
    template : float or array
        The argument whose kind the answer takes.
    result : float or array
        What numpy returned.

    Returns
    -------
    float or array
        A plain float when ``result`` has no dimensions, else an array of float64.
    """
    array = np.asarray(result, dtype=np.float64)
    return cast("Values", float(array) if array.ndim == 0 else array)
