"""A shop without a schedule: the unit or the orders that clash, and the rules, each needed for the clash."""

from datetime import timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tiny_shop import EQUIPMENT, LOTS, MONDAY, ORDER, PREPARE_BAY, SITE, SURFACE, UNIT, tiny_shop, with_row

from scheduler.activities.build import build_network
from scheduler.bound.too_much import too_much
from scheduler.schedule.schedule import Status
from scheduler.search.clash_rules import needed
from scheduler.search.outcome import Clash, Outcome
from scheduler.search.settings import Settings
from scheduler.search.solve import solve
from scheduler.shop.shop import Shop


def _outcome(shop: Shop, moves: int | None = None) -> Outcome:
    return solve(build_network(shop).network, Settings(time_limit_s=60, workers=2, moves=moves))


def _clash(**tables: Any) -> Clash:
    outcome = _outcome(tiny_shop(**tables))
    assert outcome.status is Status.INFEASIBLE
    assert outcome.placed is None
    assert outcome.clash is not None
    return outcome.clash


def _closed(what: str, which: str, days: float = 11) -> dict[str, object]:
    end = MONDAY + timedelta(days=days)
    return {"what": what, "which": which, "closed_from": MONDAY, "closed_until": end, "reason": "away"}


def test_a_unit_that_must_leave_before_it_can_be_fit_is_named() -> None:
    """U2 must leave on Tuesday at noon, and needs until Wednesday: the coating is not fit before."""
    early = {"unit_id": "U2", **UNIT, "must_leave_by": MONDAY + timedelta(days=1, hours=6)}
    clash = _clash(units=[{"unit_id": "U1", **UNIT}, early])
    assert clash.orders == ("O1",)
    assert "release" in clash.rules
    assert "unit U2 of order O1" in clash.says


def test_a_pin_that_contradicts_the_order_of_the_steps_is_named() -> None:
    """Washing is fixed for the moment at which the unit is brought."""
    clash = _clash(pinned=[{"unit_id": "U1", "step": "wash", "start_at": MONDAY}])
    assert set(clash.rules) == {"pinned_work", "step_order"}
    assert clash.fewest
    assert "unit U1" in clash.says


def test_a_pin_when_nobody_works_says_which_step_has_no_start() -> None:
    """At 20:00 there is no slot at all."""
    clash = _clash(pinned=[{"unit_id": "U1", "step": "wash", "start_at": MONDAY + timedelta(hours=14)}])
    assert clash.rules == ("pinned_work",)
    assert "no start is left for wash" in clash.says


def test_a_skill_that_nobody_has_while_it_is_needed_is_named() -> None:
    """Ada, the only sprayer, is away all the time."""
    clash = _clash(closures=[_closed("person", "ada")])
    assert clash.rules == ("crew_skills",)
    assert clash.fewest
    assert "with the skill" in clash.says


def test_a_horizon_that_is_too_short_names_what_has_to_wait() -> None:
    """On Tuesday at 16:00 the plan is over, and the coating is fit on Wednesday."""
    clash = _clash(site={**SITE, "plan_until": MONDAY + timedelta(days=1, hours=10)})
    assert "return_to_service" in clash.rules


def test_material_that_is_not_enough_for_one_unit_is_named() -> None:
    """Nine cartridges for the ten of a unit."""
    assert _clash(lots=with_row(LOTS, "lot_id", "A1", packs=9)).rules == ("cartridge_stock",)


def test_material_that_is_not_enough_for_all_names_the_orders() -> None:
    """Nineteen cartridges for twenty: either order alone could be done."""
    orders = [ORDER, {**ORDER, "order_id": "O2"}]
    units = [{"unit_id": "U1", **UNIT}, {"unit_id": "U2", **UNIT, "order_id": "O2"}]
    clash = _clash(orders=orders, units=units, lots=with_row(LOTS, "lot_id", "A1", packs=19))
    assert clash.orders == ("O1", "O2")
    assert clash.rules == ("cartridge_stock",)


def test_of_many_orders_the_fewest_are_named_that_the_stock_does_not_suffice_for() -> None:
    """Of one unit, two and one unit with ten cartridges each, the stock has nineteen: the order of two alone is too much."""
    orders = [{**ORDER, "order_id": f"O{n}"} for n in (1, 2, 3)]
    units = [{"unit_id": f"U{n}", **UNIT, "order_id": order} for n, order in enumerate(("O1", "O2", "O2", "O3"))]
    surfaces = [{"unit_id": f"U{n}", **SURFACE} for n in range(4)]
    clash = _clash(orders=orders, units=units, surfaces=surfaces, lots=with_row(LOTS, "lot_id", "A1", packs=19))
    assert (clash.orders, clash.rules) == (("O2",), ("cartridge_stock",))
    assert "mL are missing" in clash.says


def test_more_units_than_the_days_hold_are_cut_down_to_those_that_are_too_many() -> None:
    """A customer who spares two at a time and a dozen units; without any one of those that are named it is not proven so."""
    units = [{"unit_id": f"U{n}", **UNIT} for n in range(12)]
    surfaces = [{"unit_id": f"U{n}", **SURFACE} for n in range(12)]
    lots = with_row(LOTS, "lot_id", "A1", packs=500)
    net = build_network(tiny_shop(units=units, surfaces=surfaces, lots=lots)).network
    names = [path.unit for path in net.paths]
    found = too_much(net, names)
    assert found is not None
    assert found.rules == ("units_away",)
    assert all(too_much(net, [u for u in found.units if u != left_out]) is None for left_out in found.units)
    assert too_much(net, names[:1]) is None


def test_a_customer_who_can_spare_too_little_is_named_and_not_the_material() -> None:
    """Two units one after the other take four days; three are given, and one unit may be away."""
    site = {**SITE, "plan_until": MONDAY + timedelta(days=3)}
    clash = _clash(site=site, orders=[{**ORDER, "most_units_away": 1}])
    assert "units_away" in clash.rules
    assert not {"open_life", "cartridge_stock", "crew_skills", "spray_attendant"} & set(clash.rules)


def test_a_bay_that_is_too_low_is_named() -> None:
    """The unit is 1.5 m high, the bay 1 m; the rule is named as well."""
    clash = _clash(bays=[{**PREPARE_BAY, "max_height_m": 1}, tiny_shop().bays[1]])
    assert clash.says.startswith("unit U1")
    assert clash.rules == ("bay_fit",)


@pytest.mark.parametrize(
    ("which", "rule"), [("W1", "warm_cartridges"), ("G1", "gun_sessions"), ("K1", "air_supply"), ("L1", "lifting")]
)
def test_equipment_that_is_away_all_the_time_is_named_by_its_rule(which: str, rule: str) -> None:
    """Warmer, gun, compressor and lift, one at a time."""
    assert which in {row["equipment_id"] for row in EQUIPMENT}
    assert rule in _clash(closures=[_closed("equipment", which)]).rules


def test_a_shop_with_a_schedule_has_no_clash() -> None:
    """One unit and nothing in the way."""
    outcome = _outcome(tiny_shop(units=[{"unit_id": "U1", **UNIT}], surfaces=[{"unit_id": "U1", **SURFACE}]), moves=1)
    assert (outcome.status, outcome.clash) == (Status.OPTIMAL, None)


@settings(max_examples=60, deadline=None)
@given(reasons=st.lists(st.sets(st.integers(0, 6), min_size=1), min_size=1, max_size=3))
def test_what_is_left_is_a_reason_and_each_part_of_it_is_needed(reasons: list[set[int]]) -> None:
    """With up to three reasons for a clash, the filter ends with one of them that holds no other."""

    def clashes(items: list[str]) -> bool:
        return any(reason <= {int(i) for i in items} for reason in reasons)

    kept = needed([str(i) for i in range(7)], clashes)
    assert clashes(kept)
    assert not any(clashes([other for other in kept if other != item]) for item in kept)


def test_fixed_steps_that_leave_two_units_in_one_place_are_named() -> None:
    """U1 is washed on Tuesday and abraded on Thursday, U2 washed in between in the same bay, which has one place."""
    day = timedelta(days=1)
    pinned = [
        {"unit_id": "U1", "step": "wash", "start_at": MONDAY + day + timedelta(hours=2)},
        {"unit_id": "U1", "step": "abrade", "start_at": MONDAY + 3 * day + timedelta(hours=2)},
        {"unit_id": "U2", "step": "wash", "start_at": MONDAY + 2 * day + timedelta(hours=2)},
    ]
    clash = _clash(pinned=pinned)
    assert set(clash.rules) == {"pinned_work", "bay_places"}
    assert "units U1, U2" in clash.says
