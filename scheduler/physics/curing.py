"""Recoat, handling and service times from a product sheet, used up hour by hour at the steel's temperature.

A sheet gives a time at a few temperatures. Between its rows ln t is linear in T. A film that passes through changing
temperatures uses ``dt / t(T)`` of its time in each step and is done when the sum reaches 1 (the maturity idea of
ASTM C1074, from memory; here the sheet's own table takes the place of one activation energy). Averaging the
temperature first overstates a maximum window, because warm hours use up more of it than cold hours spare.

Outside the table a time is not guessed in the direction that flatters: see :func:`rate_per_h`.
"""

from typing import Literal

import numpy as np

from scheduler.physics.arrays import FloatArray, Values, as_given
from scheduler.physics.ranges import require_positive, require_within
from scheduler.physics.sheet_times import SheetTimes, sheet_h

__all__ = ["Bound", "SheetTimes", "finish_index", "progress", "rate_per_h", "sheet_h"]

Bound = Literal["minimum", "maximum"]
"""Whether a time is the least to wait (cure, drying) or the most that may pass (recoat window, pot life)."""

# Answers are rounded to a millionth of a step, so that the noise of adding floats never costs a whole slot.
_INDEX_DECIMALS = 6
_FRACTION_NOISE = 1e-9


def rate_per_h(sheet: SheetTimes, temp_c: Values, bound: Bound) -> Values:
    """Share of a sheet time that one hour at a temperature uses, continued outside the table on the careful side.

    Parameters
    ----------
    sheet : SheetTimes
        The table.
    temp_c : float or array
        Temperature of the steel, °C.
    bound : {"minimum", "maximum"}
        For a minimum, cure stands still below the table (0) and is no faster above it than in the hottest row. For a
        maximum, the window closes below the table as fast as in the coldest row and faster above it, ln t going on
        along the last two rows; a table of one row has no slope, and its rate holds throughout.

    Returns
    -------
    float or array
        Share an hour, 1/h.

    Raises
    ------
    OutOfRange
        When a temperature is not finite or beyond -60 to 300 °C.
    """
    require_within("temperature of the steel, °C", temp_c, -60.0, 300.0)
    log_hours = np.log(sheet.hours)
    rate = np.exp(-np.interp(temp_c, sheet.temp_c, log_hours))
    if bound == "minimum":
        rate = np.where(np.asarray(temp_c) < sheet.temp_c[0], 0.0, rate)
    elif len(sheet.temp_c) > 1:
        slope = (log_hours[-1] - log_hours[-2]) / (sheet.temp_c[-1] - sheet.temp_c[-2])
        rate = rate * np.exp(-slope * np.maximum(np.asarray(temp_c) - sheet.temp_c[-1], 0.0))
    return as_given(temp_c, rate)


def progress(sheet: SheetTimes, temp_c: FloatArray, step_h: float, bound: Bound) -> FloatArray:
    """Running sum of the share used, from temperatures that each hold for one step.

    Parameters
    ----------
    sheet : SheetTimes
        The table.
    temp_c : array of shape (n,)
        Temperature of the steel in each step, °C.
    step_h : float
        Length of a step, h.
    bound : {"minimum", "maximum"}
        As in :func:`rate_per_h`.

    Returns
    -------
    array of shape (n + 1,)
        Share used up to the start of each step, 0 first; the last value is the whole series.

    Raises
    ------
    OutOfRange
        When a temperature is not finite or the step is not positive.
    """
    require_positive("length of a step, h", step_h)
    shares = rate_per_h(sheet, np.asarray(temp_c, dtype=np.float64), bound) * step_h
    return np.concatenate((np.zeros(1), np.cumsum(shares)))


def finish_index(progress: FloatArray, start_index: Values, fraction: float = 1.0) -> Values:
    """Earliest place in the series at which the share used has grown by ``fraction`` since the start.

    Parameters
    ----------
    progress : array of shape (n + 1,)
        From :func:`progress`.
    start_index : float or array
        Where the time begins, in steps from the start of the series, 0 to n; fractions of a step are allowed.
    fraction : float
        Share wanted; 1 is the whole time.

    Returns
    -------
    float or array
        Place in steps, rounded to a millionth; infinite when the series ends before.

    Raises
    ------
    OutOfRange
        When a start lies outside the series or the fraction is not positive.
    """
    require_positive("share of a sheet time", fraction)
    last = len(progress) - 1
    require_within("start within the series, steps", start_index, 0.0, float(last))
    goal = np.interp(start_index, np.arange(last + 1), progress) + fraction
    after = np.clip(np.searchsorted(progress, goal - _FRACTION_NOISE, side="left"), 1, last)
    grown = np.maximum(progress[after] - progress[after - 1], np.finfo(np.float64).tiny)
    index = after - 1 + np.clip((goal - progress[after - 1]) / grown, 0.0, 1.0)
    reached = progress[-1] >= goal - _FRACTION_NOISE
    return as_given(start_index, np.where(reached, np.round(index, _INDEX_DECIMALS), np.inf))
