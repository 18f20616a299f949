"""Weather hour by hour from one start, the shape in which every later step reads it."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np

from scheduler.physics.arrays import BoolArray, FloatArray
from scheduler.physics.ranges import OutOfRange, require_not_negative, require_within

_HOUR = timedelta(hours=1)


@dataclass(frozen=True, slots=True, eq=False)
class HourlyWeather:
    """Weather outdoors, one value an hour; each value holds for the whole hour that begins there.

    Attributes
    ----------
    start_utc : datetime
        Aware, on a whole hour of UTC.
    air_temp_c, dew_point_c : array of shape (n,)
        Air temperature and dew point over water, °C.
    wind_m_s, rain_mm : array of shape (n,)
        Mean wind speed, m/s, and rain, mm, of the hour that begins.
    typical : array of bool, shape (n,)
        True where the hour comes from a typical year, not from a forecast or a reading.

    Raises
    ------
    ValueError
        When the start is not an aware whole hour, or the arrays differ in length or are empty.
    OutOfRange
        When a value is missing (nan) or is none that weather can have.
    """

    start_utc: datetime
    air_temp_c: FloatArray
    dew_point_c: FloatArray
    wind_m_s: FloatArray
    rain_mm: FloatArray
    typical: BoolArray

    def __post_init__(self) -> None:
        require_whole_hour(self.start_utc)
        require_one_length(self.air_temp_c, self.dew_point_c, self.wind_m_s, self.rain_mm, self.typical)
        require_within("air temperature, °C", self.air_temp_c, -45.0, 60.0)
        require_within("dew point, °C", self.dew_point_c, -80.0, 60.0)
        require_within("wind, m/s", self.wind_m_s, 0.0, 120.0)
        require_not_negative("rain, mm", self.rain_mm)

    def __len__(self) -> int:
        """Hours in the series."""
        return len(self.air_temp_c)

    @property
    def hours_covered(self) -> int:
        """Hours in the series, by name."""
        return len(self)

    @property
    def end_utc(self) -> datetime:
        """End of the last hour."""
        return self.start_utc.astimezone(UTC) + len(self) * _HOUR

    def index_at(self, moment: datetime) -> int:
        """Index of the hour in which a moment lies.

        Raises
        ------
        OutOfRange
            When the moment lies before the first hour or after the last.
        """
        return hour_index(self.start_utc, len(self), moment)


def hour_index(start_utc: datetime, hours: int, moment: datetime) -> int:
    """Index of the hour in which a moment lies, in a series of ``hours`` values from ``start_utc``.

    Raises
    ------
    ValueError
        When the moment has no time zone.
    OutOfRange
        When the moment lies before the first hour or after the last.
    """
    if moment.tzinfo is None:
        raise ValueError(f"a moment in a weather series needs a time zone, got {moment.isoformat()}")
    # Timestamps, not local clock times: two datetimes in one zone would be subtracted without its daylight-saving shift.
    index = int((moment.timestamp() - start_utc.timestamp()) // _HOUR.total_seconds())
    if not 0 <= index < hours:
        raise OutOfRange(f"hour of {moment.isoformat()} in the weather from {start_utc.isoformat()}", index, f"0 to {hours - 1}")
    return index


def posix_seconds(start_utc: datetime, hours: int) -> FloatArray:
    """Seconds since 1970 at the start of each hour, shape (hours,)."""
    return start_utc.timestamp() + _HOUR.total_seconds() * np.arange(hours, dtype=np.float64)


def require_whole_hour(start_utc: datetime) -> None:
    """Refuse a start without a time zone or off the whole hour.

    Raises
    ------
    ValueError
        Saying which start it was.
    """
    if start_utc.tzinfo is None or start_utc.timestamp() % _HOUR.total_seconds() != 0:
        raise ValueError(f"a weather series starts on a whole hour of UTC with its time zone, got {start_utc.isoformat()}")


def require_one_length(*series: FloatArray | BoolArray) -> None:
    """Refuse series that are empty or differ in shape.

    Raises
    ------
    ValueError
        Saying which shapes there were.
    """
    shapes = {values.shape for values in series}
    if len(shapes) != 1 or len(next(iter(shapes))) != 1 or next(iter(shapes)) == (0,):
        raise ValueError(f"hourly series need one value an hour and equal lengths, got shapes {sorted(shapes)}")
