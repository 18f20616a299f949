"""The fleet of the scenario: the customers' orders and the state in which each unit's surfaces come."""

from collections.abc import Iterator
from dataclasses import dataclass

from kinds import BLADE, BRINE, FLOOR, LONG_BODY, MOUNT, SHORT_BLADE, SHORT_BODY, SILO_BODY, Kind

Cells = dict[str, object]


@dataclass(frozen=True)
class Item:
    """A unit of an order: its kind and the state of its surfaces, a share in % where one is failing or blistered."""

    kind: Kind
    substrate: str
    share_pct: float = 0.0
    grip: bool = False


@dataclass(frozen=True)
class Batch:
    """An order with its units, which all become available at one time."""

    order_id: str
    customer: str
    available: str
    due: str
    items: tuple[Item, ...]
    weight: int = 1
    delivery: str = "together"
    most_away: int | None = None


# fmt: off
BATCHES = (
    Batch("QH", "Quernholt County, Highfell depot", "2013-09-30T07:00", "2013-10-11T15:00", (
        Item(SHORT_BODY, "failing", 20), Item(SHORT_BODY, "sound"), Item(BLADE, "bare"), Item(BLADE, "failing", 40),
    ), weight=3, delivery="singly"),
    Batch("QM", "Quernholt County, Millrace depot", "2013-09-30T07:00", "2013-10-15T15:00", (
        Item(BLADE, "bare"), Item(BLADE, "bare"), Item(SHORT_BLADE, "sound"), Item(SHORT_BLADE, "failing", 30),
    ), weight=2),
    Batch("QN", "Quernholt County, Northgate depot", "2013-09-30T07:00", "2013-10-18T15:00", (
        Item(LONG_BODY, "failing", 15), Item(LONG_BODY, "sound"), Item(LONG_BODY, "sound"), Item(LONG_BODY, "failing", 25),
    ), weight=2),
    Batch("QS", "Quernholt County, Saltmarsh depot", "2013-10-02T07:00", "2013-10-18T12:00", (
        Item(BRINE, "bare", grip=True), Item(BRINE, "bare", grip=True), Item(BRINE, "failing", 30),
    ), weight=2),
    Batch("QR", "Quernholt County, road school", "2013-10-03T07:00", "2013-10-21T15:00", (
        Item(FLOOR, "blistered", 18), Item(BRINE, "sound", grip=True),
    )),
    Batch("FE", "Town of Fenwold", "2013-09-30T09:00", "2013-10-28T12:00", (
        Item(SHORT_BODY, "sound"), Item(SHORT_BODY, "failing", 20), Item(LONG_BODY, "sound"),
        Item(SILO_BODY, "failing", 10), Item(SILO_BODY, "sound"), Item(SILO_BODY, "sound"),
    ), delivery="singly", most_away=3),
    Batch("DU", "Township of Dunmarrow", "2013-10-07T07:00", "2013-10-22T15:00", (
        Item(SILO_BODY, "failing", 30), Item(SILO_BODY, "sound"), Item(SILO_BODY, "failing", 15),
    )),
    Batch("PE", "Borough of Pellick", "2013-10-07T09:00", "2013-10-23T15:00", (
        Item(BLADE, "failing", 35), Item(SHORT_BLADE, "sound"), Item(SHORT_BLADE, "bare"), Item(MOUNT, "bare"),
    ), delivery="singly"),
    Batch("AS", "Village of Askerby", "2013-10-21T10:00", "2013-10-23T12:00", (
        Item(BLADE, "sound"), Item(SHORT_BLADE, "sound"),
    ), weight=2),
    Batch("VA", "City of Varnhollow", "2013-10-09T07:00", "2013-10-29T15:00", (
        Item(SILO_BODY, "sound"), Item(SILO_BODY, "failing", 20), Item(BRINE, "sound"),
    )),
    Batch("OS", "Village of Ossend", "2013-10-15T07:00", "2013-10-30T15:00", (
        Item(BRINE, "failing", 25), Item(MOUNT, "bare"), Item(MOUNT, "sound"),
    )),
    Batch("QA", "Quernholt County, airfield service", "2013-10-16T07:00", "2013-11-01T12:00", (
        Item(MOUNT, "bare"), Item(MOUNT, "failing", 30),
    )),
)

# fmt: on


def orders() -> Iterator[Cells]:
    """Rows of the table orders."""
    for batch in BATCHES:
        yield {
            "order_id": batch.order_id,
            "customer": batch.customer,
            "due_at": batch.due,
            "weight": batch.weight,
            "delivery": batch.delivery,
            "most_units_away": batch.most_away,
        }


def units() -> Iterator[Cells]:
    """Rows of the table units; a unit is numbered within its order."""
    for batch, number, item in _items():
        made = item.kind
        yield {
            "unit_id": f"{batch.order_id}-{number}",
            "order_id": batch.order_id,
            "name": made.name,
            "length_m": made.length_m,
            "width_m": made.width_m,
            "height_m": made.height_m,
            "mass_kg": made.mass_kg,
            "available_from": batch.available,
        }


def surfaces() -> Iterator[Cells]:
    """Rows of the table surfaces; only a step gets grip."""
    for batch, number, item in _items():
        for name, area_m2, duty in item.kind.surfaces:
            yield {
                "unit_id": f"{batch.order_id}-{number}",
                "surface": name,
                "area_m2": area_m2,
                "substrate": item.substrate,
                "failing_pct": item.share_pct,
                "duty": duty,
                "grip": "yes" if item.grip and name == "step" else "no",
                "system_id": item.kind.system,
            }


def _items() -> Iterator[tuple[Batch, int, Item]]:
    return ((batch, number, item) for batch in BATCHES for number, item in enumerate(batch.items, start=1))
