"""Random shops with every difficulty that the tables allow: closures, changes of the clocks, odd grids, opened packs, repairs.

Nobody promises that a schedule exists; what is planned must pass the checker all the same.
"""

from collections.abc import Callable
from datetime import date, datetime, timedelta
from random import Random
from typing import Any

from random_shop import ZONE, random_shop

from scheduler.record.warming import warming_now
from scheduler.schedule.schedule import Schedule
from scheduler.shop.fixed import Pinned
from scheduler.shop.shop import Shop
from tests.as_told import begun_by

Tables = dict[str, Any]


def wild_shop(seed: int, units: int = 5) -> Shop:
    """Build a shop; the same seed gives the same shop."""
    random = Random(seed * 7919 + 13)
    shop = random_shop(seed, units, days=random.choice((20, 24)))
    tables: Tables = {name: [row.model_dump() for row in getattr(shop, name)] for name in Shop.model_fields if name != "site"}
    tables["site"] = shop.site.model_dump()
    for difficulty in DIFFICULTIES:
        difficulty(random, tables)
    return Shop.model_validate(tables)


def replanned(shop: Shop, schedule: Schedule, seed: int) -> Shop:
    """The shop some days later: what has ended is done, now and then a step that is left is pinned where it was planned."""
    random = Random(seed)
    span = max(work.end for work in schedule.work) - shop.site.plan_from
    now = (shop.site.plan_from + span * random.uniform(0.15, 0.8)).replace(second=0, microsecond=0)
    done = [row for row in begun_by(schedule, now) if row.ended_at <= now]
    left = [w for w in schedule.work if w.start >= now and w.step.value == "dispatch"]
    chosen = random.sample(left, min(len(left), random.choice((0, 0, 1))))
    pins = [Pinned(unit_id=w.unit_id, step=w.name, start_at=w.start) for w in chosen]
    site = shop.site.model_copy(update={"plan_from": now})
    tables: Tables = {name: getattr(shop, name) for name in Shop.model_fields}
    warming = warming_now(shop, schedule, {(d.unit_id, d.step) for d in done}, now)
    return Shop.model_validate({**tables, "site": site, "done": done, "pinned": pins, "warming": warming})


def _grid(random: Random, tables: Tables) -> None:
    site = tables["site"]
    site["grid_min"] = random.choice((10, 15, 15, 20, 30))
    site["altitude_m"] = random.choice((0, 0, 300, 1500))
    if random.random() < 0.3:
        site["yard_places"] = max(3, len(tables["units"]) // 2)


def _clock_change(random: Random, tables: Tables) -> None:
    """Move everything by three weeks, so that the last Sunday of March lies in the plan."""
    site, later = tables["site"], timedelta(days=21)
    if random.random() < 0.4:
        days = (site["plan_until"] - site["plan_from"]).days
        site["plan_from"] = datetime(2026, 3, 23, 6, tzinfo=ZONE)
        site["plan_until"] = site["plan_from"] + timedelta(days=days)
        for table, column in (("orders", "due_at"), ("units", "available_from"), ("weather", "at")):
            for row in tables[table]:
                row[column] += later
    site["plan_from"] += timedelta(minutes=random.choice((0, 0, 7, 23)))


def _systems(random: Random, tables: Tables) -> None:
    coats = tables["coating_systems"]
    if random.random() < 0.5:
        coats.append({"system_id": "S1", "coat": 6, "applies_to": "grip", "product_id": "lining", "dft_um": 200})
    for number, applies_to, dft_um in ((1, "bare", 50), (2, "all", 500), (4, random.choice(("all", "impact", "grip")), 300)):
        product_id = "primer" if number == 1 else random.choice(("lining", "primer"))
        coats.append({"system_id": "S2", "coat": number, "applies_to": applies_to, "product_id": product_id, "dft_um": dft_um})


def _surfaces(random: Random, tables: Tables) -> None:
    for row in tables["surfaces"]:
        row["system_id"] = random.choice(("S1", "S1", "S2"))
        row["grip"] = random.random() < 0.3
        row["profile_um"] = random.choice((0, 40, 75, 120, 200))
        if random.random() < 0.25:
            row |= {"substrate": "blistered", "failing_pct": random.choice((5, 20))}


def _methods(random: Random, tables: Tables) -> None:
    rows = {row["step"].value: row for row in tables["methods"]}
    rows["cut_out"]["hold_h"] = random.choice((None, 12))
    rows["wash"]["may_pause"] = random.random() < 0.5
    rows["wash"]["emits"] = random.choice(("nothing", "nothing", "vapour"))
    rows["inspect"]["people"] = random.choice((("inspector:1",), ("inspector:1", "washer:1")))
    rows["prime"]["tools"] = random.choice(((), ("gun",)))
    for step in ("coat", "touch_up", "prime", "texture"):
        rows[step]["dry_min"] = random.choice((0, 0, 10, 200))
    for step in ("move_in", "inspect", "receive"):
        rows[step]["m2_per_h"] = random.choice((None, None, None, 60))
        rows[step]["wind_max_m_s"] = random.choice((None, None, 5))
    gone = random.choice(("", "", "", "move_out", "wash", "inspect"))
    tables["methods"] = [row for row in tables["methods"] if row["step"].value != gone]
    for hour in tables["weather"]:
        hour["wind_m_s"] = 6 if random.random() < 0.2 else 3


def _equipment(random: Random, tables: Tables) -> None:
    """Second rows of a kind, weaker or stronger than the first."""
    other: Tables = {
        "gun": {"change_min": 25, "air_l_s": 4},
        "lift": {"lift_kg": random.choice((800, 5000))},
        "warmer": {"slots": 6, "film_w_m2k": 10},
        "compressor": {"gun_bar": 5.0},
    }
    for row in list(tables["equipment"]):
        if random.random() < 0.5:
            second = {"equipment_id": f"{row['equipment_id']}x", "count": 1, "rent_per_day": random.choice((0, 50))}
            tables["equipment"].append({**row, **second, **other.get(row["kind"].value, {})})
    if random.random() < 0.2:
        for row in tables["equipment"]:
            row["pull_s"] = None


def _closures(random: Random, tables: Tables) -> None:
    site = tables["site"]
    days = (site["plan_until"] - site["plan_from"]).days - 6
    for _ in range(random.randint(0, 5)):
        what = random.choice(("site", "bay", "person", "equipment", "equipment"))
        table, column = {"bay": ("bays", "bay_id"), "person": ("crew", "person_id")}.get(what, ("equipment", "equipment_id"))
        start = site["plan_from"] + timedelta(minutes=random.randint(0, days * 1440))
        tables["closures"].append(
            {
                "what": what,
                "which": "" if what == "site" else random.choice(tables[table])[column],
                "closed_from": start,
                "closed_until": start + timedelta(minutes=random.choice((66, 300, 1560, 3000))),
                "reason": "shut",
            }
        )


def _late_shift(random: Random, tables: Tables) -> None:
    """Every other person works from the afternoon past midnight, every day of the week."""
    if random.random() < 0.3:
        days = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
        late = {"starts": "14:00", "ends": "01:00", "break_starts": "18:10", "break_ends": "18:40"}
        tables["shifts"].append({"shift_id": "late", "weekdays": days, **late})
        for row in tables["crew"][1::2]:
            row["shift_id"] = "late"


def _stock(random: Random, tables: Tables) -> None:
    today = tables["site"]["plan_from"].date()
    for number in range(random.choice((0, 0, 2, 3))):
        opened_on = max(today - timedelta(days=random.randint(0, 170)), date(2026, 2, 1))
        lot_id, left_ml = random.choice(("L1", "L2", "Q1")), random.choice((90, 300, 900, 1400))
        tables["opened"].append({"pack_id": f"X{number}", "lot_id": lot_id, "opened_on": opened_on, "remaining_ml": left_ml})
    if random.random() < 0.3:
        late = {"arrives_on": today + timedelta(days=4), "expires_on": date(2027, 1, 1)}
        tables["lots"].append({"lot_id": "L3", "product_id": "lining", "packs": 60, **late})
        tables["lots"][0]["packs"] = 6 * len(tables["units"])


DIFFICULTIES: tuple[Callable[[Random, Tables], None], ...] = (
    _grid,
    _clock_change,
    _systems,
    _surfaces,
    _methods,
    _equipment,
    _closures,
    _late_shift,
    _stock,
)
