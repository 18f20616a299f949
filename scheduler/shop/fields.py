"""Field types that the tables share: ids, word lists, flags and durations as people type them."""

import re
from collections.abc import Mapping
from typing import Annotated, Final

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

_ISO_DURATION: Final = re.compile(
    r"^P(?:(?P<w>\d+(?:\.\d+)?)W)?(?:(?P<d>\d+(?:\.\d+)?)D)?"
    r"(?:T(?:(?P<h>\d+(?:\.\d+)?)H)?(?:(?P<m>\d+(?:\.\d+)?)M)?(?:(?P<s>\d+(?:\.\d+)?)S)?)?$"
)
_MINUTES_PER: Final[Mapping[str, float]] = {"w": 10080.0, "d": 1440.0, "h": 60.0, "m": 1.0, "s": 1 / 60}


def iso_duration_min(text: str) -> float:
    """Minutes of an ISO 8601 duration of weeks, days, hours, minutes and seconds.

    Parameters
    ----------
    text : str
        Such as ``PT2H30M`` or ``P1DT6H``. Years and months have no fixed length and are refused.

    Returns
    -------
    float
        Minutes.

    Raises
    ------
    ValueError
        If the text is not such a duration.
    """
    found = _ISO_DURATION.match(text.strip().upper())
    parts = {k: float(v) for k, v in found.groupdict().items() if v is not None} if found else {}
    if not parts:
        msg = f"'{text}' is not an ISO 8601 duration of weeks, days, hours, minutes or seconds (years and months vary)"
        raise ValueError(msg)
    return sum(_MINUTES_PER[k] * v for k, v in parts.items())


def _duration(value: object, minutes_per_unit: float) -> object:
    if isinstance(value, str) and value.strip().upper().startswith("P"):
        return iso_duration_min(value) / minutes_per_unit
    return value


def _words(value: object) -> object:
    return tuple(value.replace(",", " ").split()) if isinstance(value, str) else value


def _flag(value: object) -> object:
    known = {"yes": True, "no": False, "true": True, "false": False, "1": True, "0": False}
    return known.get(value.strip().lower(), value) if isinstance(value, str) else value


Id = Annotated[str, Field(min_length=1, max_length=64, pattern=r"^[A-Za-z0-9][A-Za-z0-9_.\-]*$")]
Name = Annotated[str, Field(min_length=1, max_length=200)]
Words = Annotated[tuple[str, ...], BeforeValidator(_words)]
Flag = Annotated[bool, BeforeValidator(_flag)]
Minutes = Annotated[float, BeforeValidator(lambda v: _duration(v, 1.0)), Field(ge=0, allow_inf_nan=False)]
Hours = Annotated[float, BeforeValidator(lambda v: _duration(v, 60.0)), Field(ge=0, allow_inf_nan=False)]
Positive = Annotated[float, Field(gt=0, allow_inf_nan=False)]
NotNegative = Annotated[float, Field(ge=0, allow_inf_nan=False)]
Number = Annotated[float, Field(allow_inf_nan=False)]
Percent = Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)]
Count = Annotated[int, Field(ge=0, le=100_000)]


class Row(BaseModel):
    """A frozen row of a table; unknown columns are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", str_strip_whitespace=True)
