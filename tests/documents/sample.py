"""A shop and a schedule made by hand for the documents: they need not be the best plan, only one with every kind of content.

The horizon runs from Monday 20 October 2025 over the Sunday on which the clocks of Europe/Berlin go back.
"""

import math
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta

from draws import new_packs

from scheduler.schedule.schedule import (
    Assigned,
    DeliveryDate,
    Draw,
    GoalValue,
    Progress,
    Provenance,
    Schedule,
    Span,
    Status,
    Stay,
    Work,
)
from scheduler.shop.methods import Step
from scheduler.shop.moments import wall
from scheduler.shop.shop import Shop
from scheduler.shop.site import Site

MONDAY = date(2025, 10, 20)
BAYS = (("B1", "Wash and abrade hall", 2), ("B2", "Coating hall", 2), ("B3", "Canopy", 1))
CREW = (("ana", "Ana"), ("ben", "Ben"), ("cleo", "Cleo"), ("dan", "Dan"))


def local(day: date, clock: str) -> datetime:
    """Return a wall time at the sample's site."""
    return wall(day, time.fromisoformat(clock), sample_site().tz)


def sample_site(reads: str = "si") -> Site:
    """Site of the sample."""
    return Site(
        name="Sample yard",
        zone="Europe/Berlin",
        latitude_deg=52.0,
        longitude_deg=10.0,
        plan_from=datetime.fromisoformat("2025-10-20T06:00+02:00"),
        plan_until=datetime.fromisoformat("2025-11-14T18:00+01:00"),
        reads=reads,
    )


def sample_shop(names: Sequence[str] = (), units: int = 6, reads: str = "si") -> Shop:
    """Return a shop of ``units`` hopper bodies in orders of two; ``names`` replace those of customers, units and people."""
    given = dict(enumerate(names))
    tables = {
        "site": sample_site(reads).model_dump(),
        "orders": [_order(i, given.get(i, f"District {i + 1}")) for i in range((units + 1) // 2)],
        "units": [_unit(i, given.get(i, f"Hopper body {i + 1}")) for i in range(units)],
        "surfaces": [_surface(i) for i in range(units)],
        "coating_systems": [
            {"system_id": "S", "coat": 1, "applies_to": "bare", "product_id": "primer", "dft_um": 60},
            {"system_id": "S", "coat": 2, "applies_to": "all", "product_id": "top", "dft_um": 500},
            {"system_id": "S", "coat": 3, "applies_to": "all", "product_id": "top", "dft_um": 500},
        ],
        "products": [_primer(), _top()],
        "product_times": [_times(p, t) for p in ("primer", "top") for t in (5, 20, 35)],
        "lots": [
            {"lot_id": "L-01", "product_id": "top", "packs": 90, "arrives_on": "2025-10-01", "expires_on": "2025-11-20"},
            {"lot_id": "L-02", "product_id": "primer", "packs": 20, "arrives_on": "2025-10-01", "expires_on": "2026-03-01"},
        ],
        "opened": [{"pack_id": "O-1", "lot_id": "L-01", "opened_on": "2025-10-10", "remaining_ml": 480}],
        "bays": [_bay(*bay) for bay in BAYS],
        "crew": [_person(p, given.get(i, name)) for i, (p, name) in enumerate(CREW)],
        "equipment": _equipment(),
        "methods": _methods(),
        "shifts": [_shift()],
        "closures": [_closure("person", "dan", "2025-10-22"), _closure("bay", "B3", "2025-10-24")],
        "weather": [_hour(i) for i in range(24 * 12)],
        "typical_year": [_typical(m, d, h) for m in (10, 11, 12) for d in range(1, 32) for h in range(24) if (m, d) != (11, 31)],
    }
    return Shop.model_validate(tables)


def sample_schedule(units: int = 6) -> Schedule:
    """Return a schedule for :func:`sample_shop` with as many units: two start on each working day but the last."""
    work = tuple(step for i in range(units) for step in _steps(i))
    return Schedule(
        site="Sample yard",
        zone="Europe/Berlin",
        plan_from=sample_site().plan_from,
        plan_until=sample_site().plan_until,
        forecast_until=datetime(2025, 11, 1, tzinfo=UTC),
        provenance=_provenance(),
        goals=(
            GoalValue(name="lateness", value=2, bound=0, unit="weighted days", proven=False),
            GoalValue(name="material", value=20, bound=20, unit="packs", proven=True),
            GoalValue(name="cost", value=160.5, bound=None, unit="money", proven=False),
        ),
        work=work,
        stays=tuple(stay for i in range(units) for stay in _stays(i)),
        deliveries=tuple(_delivery(i, units) for i in range((units + 1) // 2)),
    )


def _workday(index: int) -> date:
    return MONDAY + timedelta(days=index // 5 * 7 + index % 5)


def _steps(i: int) -> list[Work]:
    first = i // 2
    d0, d1, d2 = (_workday(first + k) for k in range(3))
    odd = i % 2 == 1
    coat_bay = "B3" if odd and first % 2 else "B2"
    a, b = ("cleo", "dan") if odd else ("ana", "ben")
    coat = {"product_id": "top", "area_m2": 14.25, "volume_ml": 2100.4}
    return [
        _work(i, "receive", None, d0, ["07:00-07:30"], [(a, "driver")], ("L1",)),
        _work(i, "move_in-prepare", "B1", d0, ["07:30-08:00"], [(a, "driver")], ("L1",)),
        _work(i, "wash", "B1", d0, ["08:00-09:00"], [(b, "preparer")], area_m2=14.25),
        _work(i, "abrade", "B1", d0, ["09:30-12:00", "12:30-13:00"], [(a, "preparer")], ("GR1",), area_m2=14.25),
        _work(i, "move_out-prepare", "B1", d0, ["13:00-13:15"], [(b, "driver")], ("L1",)),
        _work(i, "move_in-coat", coat_bay, d0, ["13:15-13:30"], [(b, "driver")], ("L1",)),
        _work(i, "wipe", coat_bay, d0, ["13:30-14:00"], [(a, "preparer")], area_m2=14.25),
        _work(
            i, "prime", coat_bay, d0, ["14:30-15:15"], [(a, "sprayer"), (b, "attendant")], area_m2=2.85,
            product_id="primer", volume_ml=310.0, coat_numbers=(1,), draws=new_packs("L-02", [i + 1], 310.0, pack_ml=1000),
        ),
        _work(
            i, "coat-1", coat_bay, d1, ["09:00-10:15"], [(a, "sprayer"), (b, "attendant")], ("G1#1",), coat_numbers=(2,),
            draws=_draws(i, 1, d0), **coat,
        ),
        _work(
            i, "coat-2", coat_bay, d1, ["14:00-15:15"], [(a, "sprayer"), (b, "attendant")], ("G1#1",), coat_numbers=(3,),
            draws=_draws(i, 2, d0), **coat,
        ),
        _work(i, "inspect", coat_bay, d2, ["13:00-13:30"], [(a, "inspector")]),
        _work(i, "move_out-coat", coat_bay, d2, ["14:00-14:15"], [(b, "driver")], ("L1",)),
        _work(i, "dispatch", None, d2, ["15:00-15:30"], [(b, "driver")], ("L1",)),
    ]  # fmt: skip


def _work(i: int, name: str, bay: str | None, day: date, spans: list[str], people: list[tuple[str, str]],
          tools: tuple[str, ...] = (), **more: object) -> Work:  # fmt: skip
    step = Step(name.split("-", maxsplit=1)[0])
    return Work.model_validate(
        {
            "work_id": f"U{i + 1}/{name}",
            "unit_id": f"U{i + 1}",
            "order_id": f"O{i // 2 + 1}",
            "step": step,
            "name": name,
            "reason": f"{step.value.replace('_', ' ')}: asked for by the coating system",
            "bay_id": bay,
            "spans": [Span(start=local(day, s.split("-")[0]), end=local(day, s.split("-")[1])) for s in spans],
            "people": [Assigned(person_id=p, skill=skill) for p, skill in people],
            "tools": tools,
            "typical_weather": day >= date(2025, 11, 1),
            **more,
        }
    )


def _draws(i: int, coat: int, day: date) -> tuple[Draw, ...]:
    """Three cartridges a coat, loaded the evening before; the very first of all is one that stood opened."""
    first = 1 + 6 * i + 3 * (coat - 1)
    slots = {"pack_ml": 900.0, "purge_ml": 20.0, "heel_ml": 30.0, "loaded_at": local(day, "15:30")}
    draws = new_packs("L-01", range(first, first + 3), 2100.4, **slots)  # type: ignore[arg-type]
    if i or coat > 1:
        return draws
    opened = {"cartridge_id": "O-1", "begins": "resumed", "sprayed_ml": 410.0, "left_ml": 50.0}
    rest = new_packs("L-01", (1, 2), 1690.4, **slots)  # type: ignore[arg-type]
    return (draws[0].model_copy(update=opened), *(d.model_copy(update={"slot": k + 2}) for k, d in enumerate(rest)))


def _stays(i: int) -> list[Stay]:
    steps = {w.name: w for w in _steps(i)}
    bounds = [(s, steps[f"move_in-{s}"], steps[f"move_out-{s}"]) for s in ("prepare", "coat")]
    return [
        Stay(unit_id=a.unit_id, stage=s, bay_id=a.bay_id or "", place=_place(i, a.bay_id), start=a.start, end=b.end)
        for s, a, b in bounds
    ]


def _place(i: int, bay_id: str | None) -> int:
    return 1 if bay_id == "B3" else i % 2 + 1


def _delivery(order: int, units: int) -> DeliveryDate:
    ends = {f"U{i + 1}": _steps(i)[-1].end for i in range(2 * order, min(2 * order + 2, units))}
    last = max(ends.values())
    due = local(last.date() - timedelta(days=2 if order == 1 else -3), "16:00")
    late = max(0, (last.date() - due.date()).days)
    customer = f"District {order + 1}"
    return DeliveryDate(
        order_id=f"O{order + 1}", customer=customer, due_at=due, delivered_at=last, units=ends, days_late=late,
        typical_weather=last.date() >= date(2025, 11, 1),
    )  # fmt: skip


def _provenance() -> Provenance:
    return Provenance(
        made_at=datetime(2025, 10, 19, 12, tzinfo=UTC), coatrun_version="0.1.0", solver="CP-SAT 9.14", input_hash="ab" * 32,
        seed=1, workers=8, status=Status.FEASIBLE, gap=2.0, first_schedule_s=0.4, search_s=60.0, peak_memory_mb=310.0,
        found_by="cp-sat",
        progress=tuple(Progress(at_s=t, objective=o, bound=0) for t, o in ((0.4, 9), (3.0, 5), (21.0, 2), (60.0, 2))),
    )  # fmt: skip


def _order(i: int, customer: str) -> dict[str, object]:
    return {"order_id": f"O{i + 1}", "customer": customer, "due_at": f"2025-10-{25 + i % 5}T16:00+02:00"}


def _unit(i: int, name: str) -> dict[str, object]:
    size = {"length_m": 3.1, "width_m": 1.9, "height_m": 1.6, "mass_kg": 940}
    return {
        "unit_id": f"U{i + 1}",
        "order_id": f"O{i // 2 + 1}",
        "name": name,
        "available_from": "2025-10-20T06:00+02:00",
        **size,
    }


def _surface(i: int) -> dict[str, object]:
    return {
        "unit_id": f"U{i + 1}",
        "surface": "inside",
        "area_m2": 14.25,
        "substrate": "failing",
        "failing_pct": 20,
        "system_id": "S",
    }


def _primer() -> dict[str, object]:
    return {
        "product_id": "primer", "name": "Bonding primer", "supply": "can", "volume_solids_pct": 60, "pack_ml": 1000,
        "gel_time_min": 240, "air_min_c": 5, "steel_min_c": 5, "steel_max_c": 40, "rh_max_pct": 85, "dew_margin_k": 3,
    }  # fmt: skip


def _top() -> dict[str, object]:
    return {
        "product_id": "top", "name": "Elastomer coat", "supply": "cartridge", "volume_solids_pct": 100, "pack_ml": 900,
        "start_purge_ml": 20, "end_heel_ml": 30, "recap_purge_ml": 20, "loss_pct": 15, "gel_time_min": 4,
        "spray_min_c": 26.7, "spray_target_c": 29.4, "spray_max_c": 32.2, "air_min_c": 5, "steel_min_c": 5, "steel_max_c": 40,
        "rh_max_pct": 85, "dew_margin_k": 3, "wind_max_m_s": 6, "radius_mm": 30, "length_mm": 300, "conductivity_w_mk": 0.2,
        "density_kg_m3": 1050, "specific_heat_j_kgk": 1800,
    }  # fmt: skip


def _times(product: str, temp_c: int) -> dict[str, object]:
    slow = 2 ** ((20 - temp_c) / 10)
    hours = {"tack_free_h": 1, "rain_safe_h": 2, "recoat_min_h": 3, "recoat_max_h": 48, "handle_h": 12, "service_h": 24}
    return {"product_id": product, "temp_c": temp_c, **{k: v * slow for k, v in hours.items()}}


def _bay(bay_id: str, name: str, places: int) -> dict[str, object]:
    stages = "prepare" if bay_id == "B1" else "coat"
    size = {"max_length_m": 9, "max_width_m": 4, "max_height_m": 4, "max_mass_kg": 5000}
    heat = {"heated_to_c": 18} if bay_id == "B2" else {}
    return {"bay_id": bay_id, "name": name, "stages": stages, "places": places, "air_space": bay_id, "outdoor": bay_id == "B3",
            **size, **heat}  # fmt: skip


def _person(person_id: str, name: str) -> dict[str, object]:
    return {"person_id": person_id, "name": name, "skills": "driver preparer sprayer attendant inspector", "shift_id": "day"}


def _shift() -> dict[str, object]:
    return {"shift_id": "day", "weekdays": "mon tue wed thu fri", "starts": "07:00", "ends": "16:00",
            "break_starts": "12:00", "break_ends": "12:30"}  # fmt: skip


def _closure(what: str, which: str, day: str) -> dict[str, object]:
    return {
        "what": what,
        "which": which,
        "closed_from": f"{day}T00:00+02:00",
        "closed_until": f"{day}T23:00+02:00",
        "reason": "leave",
    }


def _equipment() -> list[dict[str, object]]:
    return [
        {"equipment_id": "W1", "kind": "warmer", "name": "Warmer", "count": 2, "slots": 12, "set_point_c": 31, "film_w_m2k": 12},
        {"equipment_id": "C1", "kind": "compressor", "name": "Compressor", "fad_l_s": 14, "receiver_l": 270, "cut_out_bar": 10,
         "gun_bar": 6.2},
        {"equipment_id": "G1", "kind": "gun", "name": "Cartridge gun", "count": 2, "air_l_s": 3, "duty_pct": 60, "pull_s": 60,
         "change_min": 10},
        {"equipment_id": "GR1", "kind": "grinder", "name": "Grinder", "count": 2, "air_l_s": 8, "duty_pct": 50, "pull_s": 30},
        {"equipment_id": "L1", "kind": "lift", "name": "Fork lift", "lift_kg": 2500},
    ]  # fmt: skip


def _methods() -> list[dict[str, object]]:
    lift = {"tools": "lift", "people": "driver:1", "set_up_min": 15}
    spray = {"people": "sprayer:1 attendant:1", "emits": "vapour", "respirator": True, "m2_per_h": 12, "stage": "coat"}
    return [
        {"step": "receive", "stage": "yard", **lift},
        {"step": "move_in", "stage": "any", **lift},
        {"step": "wash", "stage": "prepare", "people": "preparer:1", "m2_per_h": 15, "dry_min": 30, "rain_max_mm": 0.5},
        {"step": "abrade", "stage": "prepare", "people": "preparer:1", "tools": "grinder", "m2_per_h": 5, "emits": "dust",
         "respirator": True, "may_pause": True, "hold_h": 8, "rh_max_pct": 80},
        {"step": "wipe", "stage": "coat", "people": "preparer:1", "m2_per_h": 30, "emits": "vapour", "respirator": True,
         "dry_min": 15},
        {"step": "prime", **spray},
        {"step": "coat", "tools": "gun", **spray},
        {"step": "inspect", "stage": "coat", "people": "inspector:1", "set_up_min": 30},
        {"step": "move_out", "stage": "any", **lift},
        {"step": "dispatch", "stage": "yard", **lift},
    ]  # fmt: skip


def _hour(i: int) -> dict[str, object]:
    day = math.sin((i % 24 - 4) / 24 * 2 * math.pi)
    wet = 48 <= i < 66 or 125 <= i < 131
    air = 11 + 6 * day - (3 if wet else 0)
    at = datetime(2025, 10, 20, 4, tzinfo=UTC) + timedelta(hours=i)
    dew, rain = (air - 0.4, 1.2) if wet else (air - 5, 0)
    return {"at": at, "air_temp_c": air, "dew_point_c": dew, "wind_m_s": 3 + 2 * day, "rain_mm": rain}


def _typical(month: int, day: int, hour: int) -> dict[str, object]:
    air = 8 + 4 * math.sin((hour - 8) / 24 * 2 * math.pi)
    return {"month": month, "day": day, "hour": hour, "air_temp_c": air, "dew_point_c": air - 4, "wind_m_s": 3, "rain_mm": 0}
