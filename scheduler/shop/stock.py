"""Material on the shelf, on order and already opened."""

from pydantic import Field

from scheduler.shop.fields import Count, Id, NotNegative, PackId, Row
from scheduler.shop.time_fields import Day


class Lot(Row):
    """Unopened packs of one lot."""

    lot_id: Id
    product_id: Id
    packs: Count
    arrives_on: Day
    expires_on: Day = Field(description="last day on which the lot may be used")
    opened_before: Count = Field(default=0, description="packs of it opened before; the next are numbered on from there")


class Opened(Row):
    """A pack that has been opened and recapped."""

    pack_id: PackId
    lot_id: Id
    opened_on: Day
    remaining_ml: NotNegative
