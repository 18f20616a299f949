"""Waiting times as curves on the work axis: from the end of one step to the first or last start of another."""

from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from scheduler.activities.network import Curve
from scheduler.activities.time_grid import TimeGrid
from scheduler.physics.curing import SheetTimes, finish_index, progress
from scheduler.physics.weather_window import BayClimate


def as_curve(slots: NDArray[np.int64]) -> Curve:
    """Turn an array of slots into a tuple of plain integers, made non-decreasing."""
    return tuple(np.maximum.accumulate(slots).tolist())


def after_minutes(grid: TimeGrid, minutes: float) -> Curve:
    """First start once ``minutes`` have passed since the end; real time runs through nights and weekends."""
    return as_curve(grid.first_from(grid.end_min + minutes))


def within_minutes(grid: TimeGrid, minutes: float) -> Curve:
    """Last start before ``minutes`` have passed since the end."""
    return as_curve(grid.last_until(grid.end_min + minutes))


def hours_since(start_utc: datetime, grid: TimeGrid) -> float:
    """Hours from the first hour of a weather series to the origin of the grid."""
    return (grid.origin - start_utc).total_seconds() / 3600


def cured_after_min(grid: TimeGrid, climate: BayClimate, sheet: SheetTimes) -> NDArray[np.float64]:
    """Minutes from the origin at which the minimum time is up, for work that ends before each slot; inf for never.

    The rate of the sheet's time at the steel temperature of each hour is summed over the hours; a time that is not
    up at the end of the weather series is never up.
    """
    return _reached(grid, climate, progress(sheet, climate.steel_temp_c, 1.0, "minimum"))


def closes_after_min(grid: TimeGrid, climate: BayClimate, sheet: SheetTimes) -> NDArray[np.float64]:
    """Minutes from the origin at which the maximum time is up; at the latest the end of the weather series.

    Counted at the warmer of steel and air: a steel temperature that leans to the cold would leave the window open too long.
    """
    offset_h = hours_since(climate.start_utc, grid)
    reached = _reached(grid, climate, progress(sheet, climate.warmest_steel_c, 1.0, "maximum"))
    return np.minimum(reached, (climate.steel_temp_c.size - offset_h) * 60)


def _reached(grid: TimeGrid, climate: BayClimate, done: NDArray[np.float64]) -> NDArray[np.float64]:
    offset_h = hours_since(climate.start_utc, grid)
    index = np.minimum(grid.end_min / 60 + offset_h, done.size - 1)
    return (np.asarray(finish_index(done, index)) - offset_h) * 60
