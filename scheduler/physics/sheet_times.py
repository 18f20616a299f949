"""A time of a product sheet at the temperatures that it is printed for, and between them."""

from dataclasses import dataclass

import numpy as np

from scheduler.physics.arrays import Values, as_given
from scheduler.physics.ranges import require_positive, require_within


@dataclass(frozen=True, slots=True)
class SheetTimes:
    """One time of a product sheet, such as the shortest wait before the next coat, at the temperatures it is given for.

    Attributes
    ----------
    temp_c : tuple of float
        Temperatures of the rows, °C, ascending.
    hours : tuple of float
        The time at each, h, above 0 and never longer where it is hotter.

    Raises
    ------
    ValueError
        When there is no row, the lengths differ, or the rows are not ordered as above.
    """

    temp_c: tuple[float, ...]
    hours: tuple[float, ...]

    def __post_init__(self) -> None:
        if not self.temp_c or len(self.temp_c) != len(self.hours):
            raise ValueError(f"sheet times need as many hours as temperatures, got {len(self.hours)} and {len(self.temp_c)}")
        require_within("temperature of a sheet row, °C", np.asarray(self.temp_c, dtype=np.float64), -60.0, 300.0)
        require_positive("time of a sheet row, h", np.asarray(self.hours, dtype=np.float64))
        if any(np.diff(self.temp_c) <= 0):
            raise ValueError(f"temperatures of sheet times must ascend, got {self.temp_c}")
        if any(np.diff(self.hours) > 0):
            raise ValueError(f"sheet times must not grow with temperature, got {self.hours} h at {self.temp_c} °C")


def sheet_h(sheet: SheetTimes, temp_c: Values) -> Values:
    """Time at a temperature within the table, ln t linear in T.

    Parameters
    ----------
    sheet : SheetTimes
        The table.
    temp_c : float or array
        Temperature of the steel, °C.

    Returns
    -------
    float or array
        Hours.

    Raises
    ------
    OutOfRange
        Outside the table's temperatures, or nan.
    """
    require_within("temperature for a time of the product sheet, °C", temp_c, sheet.temp_c[0], sheet.temp_c[-1])
    return as_given(temp_c, np.exp(np.interp(temp_c, sheet.temp_c, np.log(sheet.hours))))
