"""What every event says: when it happened, when it was recorded and by whom."""

from typing import Annotated, Final, Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field

EVENT_VERSION: Final = "1"
Words = Annotated[str, Field(max_length=500)]


class Event(BaseModel):
    """What all events say; frozen, as an event never changes.

    Attributes
    ----------
    id : str
        Fingerprint of the rest; empty until it is sealed.
    happened_at : datetime
        Aware.
    recorded_at : datetime
        Aware.
    by : str
        Who reported it, in their own words.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)

    version: Literal["1"] = EVENT_VERSION
    id: str = ""
    happened_at: AwareDatetime
    recorded_at: AwareDatetime
    by: Words = ""
    note: Words = ""
