"""Resources on the grid: who can lift, how much air there is, which bays are alike, when equipment is away."""

from datetime import timedelta

import pytest
from tiny_shop import CREW, EQUIPMENT, MONDAY, SITE, tiny_shop, with_row

from scheduler.activities.build import Built, build_network
from scheduler.activities.masks import bits
from scheduler.activities.network import Pool
from scheduler.activities.resources import air_demand, air_pools, crew_of, lift_skill, tool_pools
from scheduler.physics.compressed_air import delivered_l_s, peak_l_s
from scheduler.shop.resources import Kind
from scheduler.shop.shop import Shop

QUARTERS_A_DAY = 38
"""06:00 to 12:00 and 12:30 to 16:00."""


def _pools(shop: Shop) -> dict[str, Pool]:
    grid = crew_of(shop).grid
    return {pool.key: pool for pool in (*tool_pools(shop, grid), *air_pools(shop, grid))}


def _closed(which: str, start_h: float, hours: float, what: str = "equipment") -> dict[str, object]:
    start = MONDAY + timedelta(hours=start_h)
    return {
        "what": what,
        "which": which,
        "closed_from": start,
        "closed_until": start + timedelta(hours=hours),
        "reason": "repair",
    }


@pytest.mark.parametrize(
    ("mass_kg", "gear"), [(799, {"L0", "L1"}), (800, {"L0", "L1"}), (800.1, {"L1"}), (2000, {"L1"}), (2001, set())]
)
def test_a_lift_takes_what_it_can_lift_and_nothing_heavier(mass_kg: float, gear: set[str]) -> None:
    """Lifts of 800 kg and 2000 kg; exactly its limit is allowed."""
    shop = tiny_shop(equipment=[*EQUIPMENT, {"equipment_id": "L0", "kind": "lift", "name": "Hoist", "lift_kg": 800}])
    skill = lift_skill(shop, mass_kg)
    assert {w.key for w in crew_of(shop).workers if skill in w.skills} == gear


def test_air_is_counted_in_tenths_supply_down_and_demand_up() -> None:
    """10.09 L/s twice are 2 x 100 tenths; a gun of 6.01 L/s at 51 % pulls 30.651 tenths, counted as 31, and 61 at its peak."""
    rows = with_row(EQUIPMENT, "equipment_id", "K1", fad_l_s=10.09, count=2)
    shop = tiny_shop(equipment=with_row(rows, "equipment_id", "G1", air_l_s=6.01, duty_pct=51))
    assert _pools(shop)["air mean"].capacity == 200
    assert air_demand(shop, Kind.GUN) == (31, 61)
    assert air_demand(shop, Kind.GRINDER) == (40, 80)
    assert air_demand(shop, Kind.TRUCK) == (0, 0)


def test_the_receiver_helps_through_the_longest_pull_at_the_altitude_of_the_site() -> None:
    """500 L from 10 to 6.2 bar over 60 s at 1524 m, with the factors of the physics."""
    k1 = {"fad_l_s": 20, "receiver_l": 500, "cut_out_bar": 10, "gun_bar": 6.2}
    rows = with_row(EQUIPMENT, "equipment_id", "K1", **k1)
    shop = tiny_shop(site={**SITE, "altitude_m": 1524}, equipment=with_row(rows, "equipment_id", "D1", pull_s=60))
    supply_l_s = delivered_l_s(20, 1524, 6.2)
    assert _pools(shop)["air mean"].capacity == int(supply_l_s * 10)
    assert _pools(shop)["air peak"].capacity == int(peak_l_s(supply_l_s, 500, 10, 6.2, 60, 1524) * 10)


def test_no_pull_is_made_up_where_no_tool_says_how_long_it_pulls() -> None:
    """Without a length of pull the receiver promises nothing: the peak is the supply."""
    k1 = {"fad_l_s": 20, "receiver_l": 500, "cut_out_bar": 10, "gun_bar": 6.2}
    pools = _pools(tiny_shop(equipment=with_row(EQUIPMENT, "equipment_id", "K1", **k1)))
    assert pools["air peak"].capacity == pools["air mean"].capacity == 200


def test_tools_at_a_higher_pressure_get_less_air_at_altitude() -> None:
    """The gun's own pressure counts, not the usual 6.2 bar: 20 L/s at 1524 m and 9 bar."""
    rows = with_row(EQUIPMENT, "equipment_id", "K1", fad_l_s=20, gun_bar=9)
    shop = tiny_shop(site={**SITE, "altitude_m": 1524}, equipment=rows)
    assert _pools(shop)["air mean"].capacity == int(delivered_l_s(20, 1524, 9) * 10) < int(delivered_l_s(20, 1524, 6.2) * 10)


def test_closures_take_the_slots_that_they_touch() -> None:
    """G1 is away from 07:05 to 07:50: four quarters from the fifth of the day on; two closures that overlap are one."""
    twice = [_closed("G1", 1 + 5 / 60, 0.75), _closed("G1", 1.2, 0.5)]
    assert _pools(tiny_shop(closures=twice))["gun"].taken == ((4, 8, 1),)


def test_a_closure_in_the_night_stops_a_warmer_and_no_gun() -> None:
    """From 22:00 to 23:00 nobody works: a gun is not missed, but nothing soaks through the night in W1."""
    night = [_closed("G1", 16, 1), _closed("W1", 16, 1)]
    pools = _pools(tiny_shop(closures=night))
    assert pools["gun"].taken == ()
    assert pools["warmer"].taken == ((QUARTERS_A_DAY, QUARTERS_A_DAY + 1, 12),)


def _starts(built: Built, name: str) -> list[int]:
    return bits(next(a for a in built.network.activities if a.name == name).windows["shift_hours"][2])


def test_a_step_keeps_its_tool_to_the_end() -> None:
    """Two guns are away one after the other: no coat of an hour spans the change, for neither gun is there throughout."""
    equipment = [*EQUIPMENT, {**EQUIPMENT[2], "equipment_id": "G2"}]
    one_after_the_other = [_closed("G1", 0, 2), _closed("G2", 2, 2)]
    before = set(_starts(build_network(tiny_shop(equipment=equipment)), "coat-1"))
    after = set(_starts(build_network(tiny_shop(equipment=equipment, closures=one_after_the_other)), "coat-1"))
    assert before - after == {5, 6, 7}


def test_respirator_hours_are_rounded_down_to_slots() -> None:
    """1.3 h are five quarters, not six; 0.7 h on a grid of six minutes are seven slots, without the noise of floats."""
    shop = tiny_shop(crew=with_row(CREW, "person_id", "ada", respirator_h=1.3))
    assert crew_of(shop).workers[0].respirator_slots == 5
    finer = tiny_shop(site={**SITE, "grid_min": 6}, crew=with_row(CREW, "person_id", "ada", respirator_h=0.7))
    assert crew_of(finer).workers[0].respirator_slots == 7
