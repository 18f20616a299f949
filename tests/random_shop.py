"""Random shops that are feasible by construction: room enough, people enough, weather that follows the day."""

import math
from datetime import date, datetime, timedelta
from random import Random
from zoneinfo import ZoneInfo

from scheduler.shop.calendar import Shift
from scheduler.shop.coating_system import Coat
from scheduler.shop.forecast_rows import WeatherHour
from scheduler.shop.methods import Method
from scheduler.shop.product_sheet import Product, ProductTime
from scheduler.shop.resources import Bay, Equipment, Person
from scheduler.shop.shop import Shop
from scheduler.shop.site import Site
from scheduler.shop.stock import Lot
from scheduler.shop.unit import Order, Surface, Unit

ZONE = ZoneInfo("Europe/Berlin")
MONDAY = datetime(2026, 3, 2, 6, 0, tzinfo=ZONE)


def _products() -> tuple[Product, ...]:
    limits = {"air_min_c": 5, "steel_min_c": 5, "steel_max_c": 40, "rh_max_pct": 85, "dew_margin_k": 3, "wind_max_m_s": 8}
    warm = {"radius_mm": 30, "length_mm": 250, "conductivity_w_mk": 0.2, "density_kg_m3": 1100, "specific_heat_j_kgk": 1900}
    spray = {"spray_min_c": 26.7, "spray_target_c": 29.4, "spray_max_c": 32.2}
    lining = {"product_id": "lining", "name": "Lining", "supply": "cartridge", "volume_solids_pct": 100, "pack_ml": 1500}
    waste = {"start_purge_ml": 60, "end_heel_ml": 45, "recap_purge_ml": 60, "loss_pct": 15, "gel_time_min": 8}
    primer = {"product_id": "primer", "name": "Bonding primer", "supply": "can", "volume_solids_pct": 60, "pack_ml": 4000}
    return (
        Product(**lining, **waste, **limits, **warm, **spray),  # type: ignore[arg-type]
        Product(**primer, loss_pct=10, gel_time_min=240, **limits),  # type: ignore[arg-type]
    )


def _times() -> tuple[ProductTime, ...]:
    rows = []
    for product, factor in (("lining", 1.0), ("primer", 0.7)):
        for temp_c, hours in ((5, 8.0), (10, 5.0), (20, 2.5), (30, 1.5)):
            t = hours * factor
            rows.append(
                ProductTime(
                    product_id=product,
                    temp_c=temp_c,
                    tack_free_h=t * 0.5,
                    rain_safe_h=t,
                    recoat_min_h=t,
                    recoat_max_h=t * 16,
                    handle_h=t * 3,
                    service_h=t * 8,
                )
            )
    return tuple(rows)


def _methods() -> tuple[Method, ...]:
    spray = {
        "stage": "coat",
        "set_up_min": 20,
        "m2_per_h": 30,
        "people": "sprayer:1 attendant:1",
        "tools": "gun",
        "respirator": True,
    }
    rows: list[dict[str, object]] = [
        {"step": "receive", "stage": "yard", "set_up_min": 15, "people": "mover:1", "tools": "lift truck"},
        {"step": "move_in", "stage": "any", "set_up_min": 15, "people": "mover:1", "tools": "lift"},
        {
            "step": "wash",
            "stage": "prepare",
            "set_up_min": 10,
            "m2_per_h": 30,
            "people": "washer:1",
            "tools": "washer",
            "dry_min": 45,
        },
        {
            "step": "strip",
            "stage": "prepare",
            "m2_per_h": 4,
            "people": "abrader:1",
            "tools": "grinder",
            "may_pause": True,
            "emits": "dust",
            "respirator": True,
        },
        {
            "step": "abrade",
            "stage": "prepare",
            "m2_per_h": 8,
            "people": "abrader:1",
            "tools": "grinder",
            "may_pause": True,
            "emits": "dust",
            "respirator": True,
            "hold_h": 30,
        },
        {"step": "move_out", "stage": "any", "set_up_min": 15, "people": "mover:1", "tools": "lift"},
        {
            "step": "cut_out",
            "stage": "coat",
            "set_up_min": 20,
            "m2_per_h": 4,
            "people": "abrader:1",
            "tools": "grinder",
            "emits": "dust",
        },
        {"step": "wipe", "stage": "coat", "m2_per_h": 40, "people": "washer:1", "emits": "vapour", "dry_min": 15, "hold_h": 4},
        {
            "step": "prime",
            "stage": "coat",
            "set_up_min": 10,
            "m2_per_h": 15,
            "people": "sprayer:1",
            "emits": "vapour",
            "respirator": True,
        },
        {"step": "coat", "emits": "vapour", **spray},
        {"step": "touch_up", "emits": "vapour", **spray},
        {"step": "texture", "emits": "vapour", **spray},
        {"step": "inspect", "stage": "coat", "set_up_min": 15, "people": "inspector:1"},
        {"step": "dispatch", "stage": "yard", "set_up_min": 15, "people": "mover:1", "tools": "lift truck"},
    ]
    return tuple(Method(**row) for row in rows)  # type: ignore[arg-type]


def _bays(random: Random, units: int, *, outdoor: bool) -> tuple[Bay, ...]:
    size = {"max_length_m": 6, "max_width_m": 3, "max_height_m": 3, "max_mass_kg": 3000}
    shared = random.random() < 0.3
    bays = []
    for n in range(max(1, math.ceil(units / 15))):
        bays.append(
            Bay(
                bay_id=f"P{n + 1}",
                name="Prepare",
                stages="prepare",
                places=random.choice((1, 2)),
                air_space=f"prep{n}",
                outdoor=False,
                heated_to_c=12,
                **size,
            )
        )  # type: ignore[arg-type]
    for n in range(max(1, math.ceil(units / 10))):
        out = outdoor and n == 0 and units >= 10
        space = "prep0" if shared and n == 0 else f"coat{n}"
        bays.append(
            Bay(
                bay_id=f"C{n + 1}",
                name="Coat",
                stages="coat",
                places=random.choice((1, 2)),
                air_space=space,
                outdoor=out,
                heated_to_c=None if out else 20,
                rh_held_pct=None if out else 60,
                **size,
            )
        )  # type: ignore[arg-type]
    return tuple(bays)


def _crew(random: Random, units: int) -> tuple[Person, ...]:
    people = []
    for n in range(max(4, math.ceil(units / 6))):
        skills = {"mover", "washer"} | set(random.sample(["abrader", "attendant", "inspector"], 2))
        skills |= (
            {("sprayer", "abrader", "attendant", "inspector")[n % 4], "attendant"} if n % 2 == 0 else {"abrader", "inspector"}
        )
        people.append(
            Person(person_id=f"W{n + 1}", name=f"Worker {n + 1}", skills=" ".join(sorted(skills)), shift_id="day", respirator_h=6)
        )  # type: ignore[arg-type]
    return tuple(people)


def _equipment(units: int) -> tuple[Equipment, ...]:
    scale = max(1, math.ceil(units / 20))
    rows: list[dict[str, object]] = [
        {
            "equipment_id": "H",
            "kind": "warmer",
            "name": "Warmer",
            "count": scale + 1,
            "slots": 12,
            "set_point_c": 29.4,
            "film_w_m2k": 8,
        },
        {
            "equipment_id": "K",
            "kind": "compressor",
            "name": "Compressor",
            "count": scale,
            "fad_l_s": 20,
            "receiver_l": 500,
            "cut_out_bar": 10,
            "gun_bar": 6.2,
        },
        {
            "equipment_id": "G",
            "kind": "gun",
            "name": "Gun",
            "count": scale + 1,
            "air_l_s": 6,
            "duty_pct": 60,
            "pull_s": 60,
            "change_min": 10,
        },
        {
            "equipment_id": "A",
            "kind": "grinder",
            "name": "Grinder",
            "count": 2 * scale,
            "air_l_s": 9,
            "duty_pct": 60,
            "pull_s": 60,
        },
        {"equipment_id": "S", "kind": "washer", "name": "Washer", "count": scale},
        {"equipment_id": "L", "kind": "lift", "name": "Lift", "count": scale, "lift_kg": 2000},
        {"equipment_id": "T", "kind": "truck", "name": "Truck", "count": scale},
    ]
    return tuple(Equipment(**row) for row in rows)  # type: ignore[arg-type]


def _weather(random: Random, start: datetime, days: int) -> tuple[WeatherHour, ...]:
    rows, wet = [], 0
    for h in range(days * 24):
        at = start.astimezone(ZoneInfo("UTC")).replace(hour=0) + timedelta(hours=h)
        wet = wet - 1 if wet > 0 else (random.randint(3, 20) if random.random() < 0.01 else 0)
        temp_c = 12 + 6 * math.sin(2 * math.pi * (h % 24 - 9) / 24)
        dew_c = temp_c - (1.0 if wet else 6.0 + 2 * math.sin(h / 30))
        rows.append(
            WeatherHour(at=at, air_temp_c=round(temp_c, 2), dew_point_c=round(dew_c, 2), wind_m_s=3, rain_mm=1.0 if wet else 0.0)
        )
    return tuple(rows)


def _units(random: Random, count: int, days: int) -> tuple[list[Order], list[Unit], list[Surface]]:
    orders: list[Order] = []
    units: list[Unit] = []
    surfaces: list[Surface] = []
    while len(units) < count:
        name = f"O{len(orders) + 1}"
        batch = min(random.randint(1, 5), count - len(units))
        due = MONDAY + timedelta(days=random.randint(4, max(5, days // 2)), hours=8)
        arrives = MONDAY + timedelta(days=random.randint(0, max(1, days // 5)))
        away = random.choice((None, None, max(1, batch - 1)))
        orders.append(
            Order(
                order_id=name,
                customer=f"Customer {name}",
                due_at=due,
                weight=random.randint(1, 3),
                delivery=random.choice(("together", "singly")),
                most_units_away=away,
            )
        )  # type: ignore[arg-type]
        big = random.random() < 0.6
        for _ in range(batch):
            unit = f"U{len(units) + 1}"
            units.append(
                Unit(
                    unit_id=unit,
                    order_id=name,
                    name=f"Body {unit}",
                    length_m=3,
                    width_m=1.6,
                    height_m=1.4,
                    mass_kg=900,
                    available_from=arrives,
                )
            )
            _surfaces(random, unit, surfaces, big=big)
    return orders, units, surfaces


def _surfaces(random: Random, unit: str, surfaces: list[Surface], *, big: bool) -> None:
    area = random.uniform(9, 13) if big else random.uniform(3, 6)
    state = random.choice(("bare", "sound", "sound", "failing"))
    surfaces.append(
        Surface(
            unit_id=unit,
            surface="outside",
            area_m2=round(area, 1),
            substrate=state,
            failing_pct=30 if state == "failing" else 0,
            duty="rust",
            system_id="S1",
        )
    )  # type: ignore[arg-type]
    if big:
        surfaces.append(
            Surface(
                unit_id=unit, surface="inside", area_m2=round(area * 0.6, 1), substrate="sound", duty="impact", system_id="S1"
            )
        )  # type: ignore[arg-type]


def random_shop(seed: int, units: int = 6, days: int | None = None, *, outdoor: bool = True) -> Shop:
    """Build a random shop; the same seed gives the same shop."""
    random = Random(seed)
    days = days or 16 + math.ceil(units * 1.2)
    orders, items, surfaces = _units(random, units, days)
    systems = [
        (1, "bare", "primer", 40),
        (2, "all", "lining", 400),
        (3, "all", "lining", 400),
        (4, "impact", "lining", 500),
        (5, "impact", "lining", 500),
    ]
    site = Site(
        name="Random shop",
        zone="Europe/Berlin",
        latitude_deg=52,
        longitude_deg=13,
        plan_from=MONDAY,
        plan_until=MONDAY + timedelta(days=days),
        grid_min=15,
        yard_places=max(12, units // 2),
    )
    weekdays = "mon tue wed thu fri"
    return Shop(
        site=site,
        orders=tuple(orders),
        units=tuple(items),
        surfaces=tuple(surfaces),
        coating_systems=tuple(Coat(system_id="S1", coat=n, applies_to=a, product_id=p, dft_um=d) for n, a, p, d in systems),  # type: ignore[arg-type]
        products=_products(),
        product_times=_times(),
        lots=(
            Lot(
                lot_id="L1",
                product_id="lining",
                packs=units * 30 + 40,
                arrives_on=date(2026, 2, 1),
                expires_on=date(2027, 12, 31),
            ),
            Lot(lot_id="L2", product_id="lining", packs=units * 2, arrives_on=date(2026, 2, 1), expires_on=date(2026, 3, 10)),
            Lot(
                lot_id="Q1", product_id="primer", packs=units * 5 + 10, arrives_on=date(2026, 2, 1), expires_on=date(2027, 12, 31)
            ),
        ),
        bays=_bays(random, units, outdoor=outdoor),
        crew=_crew(random, units),
        equipment=_equipment(units),
        methods=_methods(),
        shifts=(
            Shift(shift_id="day", weekdays=weekdays, starts="07:00", ends="16:00", break_starts="12:00", break_ends="12:30"),  # type: ignore[arg-type]
            Shift(shift_id="day", weekdays="sat", starts="07:00", ends="12:00", overtime=True),  # type: ignore[arg-type]
        ),
        weather=_weather(random, MONDAY, days + 15),
    )
