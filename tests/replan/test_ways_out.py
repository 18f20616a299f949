"""Plans that cannot be: which orders slip and to when, which change cures it, and pins that break a rule."""

import json
from datetime import timedelta
from itertools import combinations
from pathlib import Path

import pytest
from click.testing import CliRunner

from scheduler.activities.build import build_network
from scheduler.activities.subset import subset
from scheduler.cli.app import app
from scheduler.pipeline import NoScheduleError, plan
from scheduler.replan.choices import Wish, replan
from scheduler.replan.fewest_slips import all_but, fewest_slips
from scheduler.replan.fitting import Fitting
from scheduler.replan.pins import broken_pins
from scheduler.replan.ways_out import ways_out
from scheduler.search.clash_rules import infeasible
from scheduler.search.clock import Clock
from scheduler.search.improve import Improver
from scheduler.search.settings import Settings
from scheduler.shop.fixed import Pinned
from scheduler.shop.shop import Shop
from scheduler.shop.write import write_shop
from tests.random_shop import random_shop
from tests.tiny_shop import MONDAY, tiny_shop


def _too_soon() -> Shop:
    """The second unit is an order of its own and has to leave before its coating can be fit for service."""
    shop = tiny_shop()
    first, second = shop.units
    other = shop.orders[0].model_copy(update={"order_id": "O2", "customer": "Other yard"})
    hurried = second.model_copy(update={"order_id": "O2", "must_leave_by": MONDAY + timedelta(days=1)})
    tables = {name: getattr(shop, name) for name in Shop.model_fields}
    return Shop.model_validate({**tables, "orders": (*shop.orders, other), "units": (first, hurried)})


def test_the_one_order_that_must_slip_is_named_with_its_day_and_the_cure() -> None:
    """Only the hurried order slips, to a day after the one that was asked for; letting it leave later is a cure that holds."""
    shop = _too_soon()
    assert Improver(build_network(shop).network, 1).first() is None
    found = ways_out(shop)
    assert found.fewest
    (slip,) = found.slips
    assert (slip.order, slip.customer) == ("O2", "Other yard")
    assert slip.back_at is not None
    assert slip.back_at > MONDAY + timedelta(days=1)
    assert found.cures[0] == "the units of O2 may leave later"


@pytest.mark.parametrize(
    ("start", "bay", "rules"),
    [
        (timedelta(hours=14), None, ("shift_hours",)),
        (timedelta(hours=2), "nowhere", ("bay_fit",)),
    ],
)
def test_a_pin_that_breaks_a_rule_says_which(start: timedelta, bay: str | None, rules: tuple[str, ...]) -> None:
    """One after the shift, and one in a bay that does not do the step."""
    shop = tiny_shop()
    wrong = next(b.bay_id for b in shop.bays if "coat" in b.stages) if bay else None
    shop = tiny_shop(pinned=[{"unit_id": "U1", "step": "wash", "start_at": MONDAY + start, "bay_id": wrong}])
    (found,) = broken_pins(shop, build_network(shop))
    assert found.rules == rules
    assert "wash of U1 is fixed on Mon 2 Jun" in found.says


def test_a_pin_that_can_be_kept_is_none_of_them() -> None:
    """Nothing to say."""
    shop = tiny_shop(pinned=[{"unit_id": "U1", "step": "wash", "start_at": MONDAY + timedelta(hours=4)}])
    assert broken_pins(shop, build_network(shop)) == ()


def test_the_command_says_the_way_out(tmp_path: Path) -> None:
    """A folder without a schedule: what clashes, who must slip and to when, and what would cure it, in words and as data."""
    shop = random_shop(3, 2)
    hurry = shop.orders[0].model_copy(update={"order_id": "HURRY", "customer": "Other yard"})
    soon = shop.units[1].available_from + timedelta(days=2)
    unit = shop.units[1].model_copy(update={"order_id": "HURRY", "must_leave_by": soon})
    tables = {name: getattr(shop, name) for name in Shop.model_fields}
    tables |= {"orders": (*shop.orders, hurry), "units": (shop.units[0], unit)}
    write_shop(Shop.model_validate(tables), tmp_path / "shop")
    asked = ["plan", str(tmp_path / "shop"), "--out", str(tmp_path / "out"), "--time-limit", "20", "--json"]
    result = CliRunner().invoke(app, asked)
    answer = json.loads(result.stdout)
    assert result.exit_code == 1
    assert "The fewest orders that must slip (proven), and when they could be back instead:\n  HURRY, Other" in result.stderr
    assert [slip["order_id"] for slip in answer["slips"]] == ["HURRY"]
    assert answer["cures"] == ["the units of HURRY may leave later"]
    assert not (tmp_path / "out").exists()


def test_pins_that_cannot_be_kept_end_a_replan_at_once_with_their_rule() -> None:
    """No search is begun: the pin, the rule and the order are said, and letting go of the pin is the way out."""
    shop = tiny_shop()
    made = plan(shop, Settings(moves=1, workers=1))
    pin = Pinned(unit_id="U1", step="coat-1", start_at=MONDAY + timedelta(days=1, hours=20))
    fixed = Shop.model_validate({name: getattr(shop, name) for name in Shop.model_fields} | {"pinned": (pin,)})
    with pytest.raises(NoScheduleError) as none:
        replan(fixed, made.schedule, Wish(Settings(moves=1000)))
    clash = none.value.outcome.clash
    assert clash is not None
    assert clash.rules == ("pinned_work", "shift_hours")
    assert clash.orders == (shop.units[0].order_id,)
    assert "coat-1 of U1 is fixed on Wed 4 Jun 02:00" in clash.says
    found = ways_out(fixed, (), broken_pins(fixed, build_network(fixed)))
    assert found.slips == ()
    assert found.cures == ("coat-1 of U1 is not fixed any more",)


def _pinned(shop: Shop, *pins: tuple[str, str, timedelta]) -> Shop:
    rows = tuple(Pinned(unit_id=unit, step=step, start_at=MONDAY + after) for unit, step, after in pins)
    return Shop.model_validate({name: getattr(shop, name) for name in Shop.model_fields} | {"pinned": rows})


def test_of_pins_that_clash_together_as_few_as_suffice_are_let_go() -> None:
    """Two coats of the one sprayer at once: either of the two pins is enough, and the plan without it keeps all rules."""
    shop = _pinned(tiny_shop(), ("U1", "coat-1", timedelta(days=2, hours=3)), ("U2", "coat-1", timedelta(days=2, hours=3)))
    assert not Fitting(build_network(shop).network).fits()
    found = ways_out(shop)
    assert found.slips == ()
    assert found.cures == ("coat-1 of U1 is not fixed any more", "coat-1 of U2 is not fixed any more")
    for pin in shop.pinned:
        rest = _pinned(tiny_shop(), (pin.unit_id, pin.step, pin.start_at - MONDAY))
        assert plan(rest, Settings(moves=1, workers=1)).report.ok


def test_a_plan_that_ends_too_soon_may_end_later() -> None:
    """Both units could be back a few days past the end; that the plan ends a week later is the cure, and it holds."""
    shop = random_shop(3, 2)
    whole = plan(shop, Settings(moves=1, workers=1)).schedule
    first, last = sorted(w.end for w in whole.work if w.name == "dispatch")
    until = first + (last - first) / 2
    short = shop.with_tables(site=shop.site.model_copy(update={"plan_until": until}))
    found = ways_out(short)
    assert len(found.slips) == 1
    assert found.fewest
    slip = found.slips[0]
    assert slip.back_at is None or slip.back_at > until
    assert bool(found.cures) == bool(shop.typical_year)


def _ends_too_soon(seed: int, days: int) -> Shop:
    """Four units, each an order of its own, in a plan that ends before all of them are done."""
    shop = random_shop(seed, 4)
    order = shop.orders[0]
    orders = tuple(order.model_copy(update={"order_id": f"O-{unit.unit_id}"}) for unit in shop.units)
    units = tuple(unit.model_copy(update={"order_id": f"O-{unit.unit_id}"}) for unit in shop.units)
    site = shop.site.model_copy(update={"plan_until": shop.site.plan_from + timedelta(days=days)})
    return shop.with_tables(orders=orders, units=units, site=site)


@pytest.mark.parametrize(("seed", "days", "fewer"), [(3, 5, True), (4, 5, True), (8, 7, True), (5, 7, False)])
def test_as_few_orders_slip_as_by_full_solve_of_every_smaller_set(seed: int, days: int, *, fewer: bool) -> None:
    """CP-SAT refuses all smaller sets and the others do fit; on the first three shops insertion would have let one more slip."""
    net = build_network(_ends_too_soon(seed, days)).network
    few, orders = fewest_slips(Fitting(net)), list(dict.fromkeys(path.order for path in net.paths))
    assert few.proven
    assert Fitting(net).fits(few.items) != fewer
    assert all_but(net, few.items).state.present == {path.unit for path in net.paths if path.order not in few.items}
    for smaller in combinations(orders, len(few.items) - 1):
        assert infeasible(subset(net, {p.unit for p in net.paths if p.order not in smaller}), (), Clock(60), 2)


def test_the_shop_without_the_one_order_that_must_slip_is_planned() -> None:
    """Where insertion alone does not get the others in: they are planned, and the plan is checked."""
    shop = _ends_too_soon(4, 5)
    found = ways_out(shop)
    assert found.fewest
    (slip,) = found.slips
    rest = tuple(unit for unit in shop.units if unit.order_id != slip.order)
    surfaces = tuple(s for s in shop.surfaces if s.unit_id in {unit.unit_id for unit in rest})
    orders = tuple(order for order in shop.orders if order.order_id != slip.order)
    assert plan(shop.with_tables(orders=orders, units=rest, surfaces=surfaces), Settings(moves=1, workers=1)).report.ok


def test_a_unit_without_a_way_even_alone_is_told_apart() -> None:
    """Its order is stranded whatever else is in the shop; without it everything fits, and nothing else is left over."""
    shop = _too_soon()
    fitting = Fitting(build_network(shop).network)
    assert fitting.stranded() == ("O2",)
    assert not fitting.fits()
    assert fitting.fits({"O2"})
    assert [path.order for path in fitting.fill().left] == ["O2"]


def test_units_are_put_in_by_a_given_order() -> None:
    """All of them, each as early as it goes: the first in the order ends first; None if one has no place."""
    net = build_network(tiny_shop()).network
    for units in (["U1", "U2"], ["U2", "U1"]):
        placed = Fitting(net).in_order(units)
        assert placed is not None
        first, second = (next(p for p in net.paths if p.unit == unit) for unit in units)
        assert placed.start[first.last] <= placed.start[second.last]
    assert Fitting(build_network(_too_soon()).network).in_order(["U1", "U2"]) is None
