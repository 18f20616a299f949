"""The registry of rules: one name everywhere, in the model, the checker, the tests, the messages and the docs."""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule of the trade that every schedule must keep.

    Attributes
    ----------
    name : str
        The one name of the rule, used in code, messages and documents.
    says : str
        What it demands, in one line that a foreman would understand.
    measured_in : str
        The unit in which a breach is reported.
    """

    name: str
    says: str
    measured_in: str


_ROWS: Final = (
    ("step_order", "every step that a unit needs is there once and in the technical order", "step"),
    ("flash_off", "water has dried and solvent has left the surface before the next step", "min"),
    ("hold_time", "abraded steel is primed or coated before it flash rusts or gets dirty", "h"),
    (
        "recoat_window",
        "each coat after the minimum and before the maximum at the steel temperature of those hours, or wet on wet after a stop",
        "h",
    ),
    ("dry_to_handle", "a coated unit stays in its bay until it can be moved, and no film is cut or abraded before that", "h"),
    ("return_to_service", "a unit is not handed back before its coating is fit for service", "h"),
    ("bay_fit", "the bay allows the step and the unit fits in it by size and mass", "m or kg"),
    ("bay_places", "a bay never holds more units than it has places, and none while it is shut", "place"),
    ("lifting", "gear that can lift the unit is free for every move", "gear"),
    (
        "shift_hours",
        "attended work lies inside shifts and outside breaks and closures; a coat never spans a break",
        "min",
    ),
    ("crew_skills", "every attended step has named people with the skill, each in one place at a time", "person"),
    ("spray_attendant", "nobody sprays alone: a second person stands by through the step", "person"),
    ("respirator_hours", "nobody works longer under a respirator in a day than their limit", "min"),
    (
        "air_supply",
        "tools that run together stay within the compressor's free air, short peaks within the receiver",
        "L/s",
    ),
    (
        "gun_sessions",
        "a gun sprays one product for one coat at a time, with time to change over; no stop beyond the gel time",
        "gun",
    ),
    (
        "warm_cartridges",
        "every cartridge has had a warmer slot of its own for its soak time, loaded while someone is there",
        "slot",
    ),
    ("cartridge_stock", "every film is sprayed from packs that have arrived, are in date and hold it, one use at a time", "mL"),
    ("open_life", "an opened pack is used within its open life", "d"),
    (
        "weather_window",
        "dew point margin, temperatures, humidity, wind and rain within limits until the coat can take it",
        "h",
    ),
    ("air_space", "no sparks or dust while solvent or a wet film shares the air", "min"),
    ("release", "no work on a unit before it is available, and it leaves when it must", "h"),
    ("units_away", "a customer never has more units away than it can spare", "unit"),
    ("haulage", "trucks are free for each pick-up and drop, and the yard has room", "unit"),
    ("pinned_work", "what a person has fixed stays where it is", "min"),
    ("done_work", "what has happened is history and stays as recorded", "min"),
)

RULES: Final[dict[str, Rule]] = {row[0]: Rule(*row) for row in _ROWS}
