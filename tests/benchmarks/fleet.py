"""Orders, units and surfaces of a benchmark shop."""

from datetime import timedelta
from random import Random

from scheduler.shop.unit import Order, Surface, Unit
from tests.random_shop import MONDAY

Kind = tuple[tuple[str, float, str, str], ...]
"""Surfaces of a kind of unit: name, area in m2, substrate, duty."""

LONG_D = 60
"""Days from which orders come more slowly, or the queue would grow longer than anybody would bear."""
LEAD_D = 3.0
"""Days that a unit takes when the shop is empty, about."""


def fleet(
    random: Random, count: int, days: int, *, few_types: bool, tight: bool, outdoor: bool, large: bool
) -> dict[str, object]:
    """Build ``count`` units in orders of one to five that arrive in the first part of the horizon, outdoors a shorter one."""
    known = [_kind(random, n, large=large) for n in range(3)]
    orders: list[Order] = []
    units: list[Unit] = []
    surfaces: list[Surface] = []
    sizes = _batches(random, count)
    arrivals = _arrivals(random, len(sizes), days, tight=tight, outdoor=outdoor)
    for number, (arrives_d, batch) in enumerate(zip(arrivals, sizes, strict=True)):
        order = _order(random, number, arrives_d, batch, tight=tight)
        kind = random.choice(known)
        orders.append(order)
        for _ in range(batch):
            mine = kind if few_types else _kind(random, len(units), large=large)
            unit = _unit(order.order_id, len(units), arrives_d, large=large)
            units.append(unit)
            surfaces += [_surface(unit.unit_id, *row) for row in mine]
    return {"orders": tuple(orders), "units": tuple(units), "surfaces": tuple(surfaces)}


def _batches(random: Random, count: int) -> list[int]:
    sizes: list[int] = []
    while sum(sizes) < count:
        sizes.append(min(random.randint(1, 5), count - sum(sizes)))
    return sizes


def _arrivals(random: Random, orders: int, days: int, *, tight: bool, outdoor: bool) -> list[int]:
    """Days of arrival; in tight families four orders out of ten come on the day of the one before."""
    last = days * (0.35 if outdoor else 0.5 if days < LONG_D else 0.62)
    found = sorted(round(random.uniform(0, last)) for _ in range(orders))
    if tight:
        for n in range(1, orders):
            found[n] = found[n - 1] if random.random() < 0.4 else found[n]
    return found


def _order(random: Random, number: int, arrives_d: int, batch: int, *, tight: bool) -> Order:
    lead_d = LEAD_D + 0.4 * batch
    stretch = random.uniform(0.7, 1.4) if tight else random.uniform(2.5, 5.0)
    return Order(
        order_id=f"O{number + 1}",
        customer=f"Customer {number + 1}",
        due_at=MONDAY + timedelta(days=arrives_d + round(lead_d * stretch), hours=8),
        weight=random.choice((1, 1, 2, 3, 5)),
        delivery=random.choice(("together", "singly")),
        most_units_away=random.choice((None, None, None, max(1, batch - 1))),
    )  # type: ignore[arg-type]


def _kind(random: Random, number: int, *, large: bool) -> Kind:
    area = random.uniform(8, 14) if large else random.uniform(0.8, 3.0)
    state = ("bare", "sound", "failing")[number] if number < 3 else random.choice(("bare", "sound", "sound", "failing"))
    rows = [("outside", round(area, 1), state, "rust")]
    if number % 3 != 1:
        rows.append(("inside", round(area * 0.5, 1), "sound", "impact"))
    return tuple(rows)


def _unit(order_id: str, number: int, arrives_d: int, *, large: bool) -> Unit:
    length, width, height, mass = (3.0, 1.6, 1.4, 900) if large else (1.5, 0.8, 0.6, 180)
    return Unit(
        unit_id=f"U{number + 1}",
        order_id=order_id,
        name=f"Body {number + 1}" if large else f"Frame {number + 1}",
        length_m=length,
        width_m=width,
        height_m=height,
        mass_kg=mass,
        available_from=MONDAY + timedelta(days=arrives_d),
    )


def _surface(unit_id: str, name: str, area_m2: float, substrate: str, duty: str) -> Surface:
    return Surface(
        unit_id=unit_id,
        surface=name,
        area_m2=area_m2,
        substrate=substrate,
        failing_pct=30 if substrate == "failing" else 0,
        duty=duty,
        system_id="S1",
    )  # type: ignore[arg-type]
