"""Options of a report and the fields of its event that they say."""

from collections.abc import Mapping
from typing import Final

FIELDS: Final[Mapping[str, str]] = {
    "at": "happened_at",
    "until": "until",
    "why": "why",
    "cause": "cause",
    "share": "share_pct",
    "done": "done_pct",
    "ml": "ml",
    "packs": "packs",
    "expires": "expires_on",
    "air": "air_c",
    "steel": "steel_c",
    "dew": "dew_point_c",
    "rh": "rh_pct",
    "cartridges": "cartridges",
}
OPTION_OF: Final[Mapping[str, str]] = {field: option for option, field in FIELDS.items()} | {"dft_um": "dft"}
"""The other way round, with what can be reported but not be put right by an option."""
