"""Field types that the tables share: ids, word lists, flags and durations as people type them."""

import re
import unicodedata
from collections.abc import Mapping
from typing import Annotated, Final

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

_ISO_DURATION: Final = re.compile(
    r"^P(?:(?P<w>\d+(?:[.,]\d+)?)W)?(?:(?P<d>\d+(?:[.,]\d+)?)D)?"
    r"(?:T(?=\d)(?:(?P<h>\d+(?:[.,]\d+)?)H)?(?:(?P<m>\d+(?:[.,]\d+)?)M)?(?:(?P<s>\d+(?:[.,]\d+)?)S)?)?$",
    re.ASCII,
)
_MINUTES_PER: Final[Mapping[str, float]] = {"w": 10080.0, "d": 1440.0, "h": 60.0, "m": 1.0, "s": 1 / 60}
_TURNS: Final = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
LARGEST: Final = 1e9
_IS_DURATION: Final = {"duration": True}
ID_PATTERN: Final = r"^[A-Za-z0-9][A-Za-z0-9_.\-]*$"


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
    parts = {k: float(v.replace(",", ".")) for k, v in found.groupdict().items() if v is not None} if found else {}
    if not parts:
        msg = "not a duration of weeks, days, hours, minutes or seconds (ISO 8601; years and months vary); write it as PT2H30M"
        raise ValueError(msg)
    return sum(_MINUTES_PER[k] * v for k, v in parts.items())


def is_id(text: str) -> bool:
    """Whether a text can be an id."""
    return re.fullmatch(ID_PATTERN, text) is not None and len(text) <= 64


def _duration(value: object, minutes_per_unit: float) -> object:
    if isinstance(value, str) and value.strip().upper().startswith("P"):
        return iso_duration_min(value) / minutes_per_unit
    return value


def _words(value: object) -> object:
    words = tuple(value.replace(",", " ").split()) if isinstance(value, str) else value
    if isinstance(words, tuple):
        for word in words:
            no_formula(word)
    return words


def no_formula(value: object) -> object:
    """Refuse text that a spreadsheet would run as a formula, and control characters.

    Raises
    ------
    ValueError
        As ``problem; cure``.
    """
    text = value if isinstance(value, str) else ""
    if text.lstrip()[:1] in set("=+-@") or text[:1] == "\t":
        msg = "a spreadsheet would take the text for a formula; start the name with a letter"
        raise ValueError(msg)
    if any(unicodedata.category(letter) in {"Cc", "Cs"} or letter in _TURNS for letter in text):
        msg = "there is a control character in the text; type it again on one line"
        raise ValueError(msg)
    return value


def _flag(value: object) -> object:
    known = {"yes": True, "no": False, "true": True, "false": False, "1": True, "0": False}
    return known.get(value.strip().lower(), value) if isinstance(value, str) else value


Id = Annotated[str, Field(min_length=1, max_length=64, pattern=ID_PATTERN)]
PackId = Annotated[str, Field(min_length=1, max_length=80, pattern=r"^[A-Za-z0-9][A-Za-z0-9_.\-]*(#[0-9]+)?$")]
Name = Annotated[str, Field(min_length=1, max_length=200), BeforeValidator(no_formula)]
Words = Annotated[tuple[str, ...], BeforeValidator(_words)]
Flag = Annotated[bool, BeforeValidator(_flag)]
Minutes = Annotated[float, Field(ge=0, le=1e6, json_schema_extra=_IS_DURATION), BeforeValidator(lambda v: _duration(v, 1.0))]
Hours = Annotated[float, Field(ge=0, le=1e5, json_schema_extra=_IS_DURATION), BeforeValidator(lambda v: _duration(v, 60.0))]
Days = Annotated[float, Field(gt=0, le=36_500)]
Positive = Annotated[float, Field(gt=0, le=LARGEST)]
NotNegative = Annotated[float, Field(ge=0, le=LARGEST)]
Number = Annotated[float, Field(ge=-LARGEST, le=LARGEST)]
CelsiusMaterial = Annotated[float, Field(ge=-40, le=100)]
Percent = Annotated[float, Field(ge=0, le=100)]
FileName = Annotated[str, Field(max_length=100, pattern=r"^([A-Za-z0-9][A-Za-z0-9_.\-]*\.csv)?$")]
IdOrNone = Annotated[str, Field(max_length=64, pattern=r"^([A-Za-z0-9][A-Za-z0-9_.\-]*)?$")]
Count = Annotated[int, Field(ge=0, le=100_000)]


class Row(BaseModel):
    """A frozen row of a table; unknown columns are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", str_strip_whitespace=True, allow_inf_nan=False)
