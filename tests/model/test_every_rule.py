"""Every rule of the registry is in the model, and bites: a network that it makes infeasible is feasible without it."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from ortools.sat.python import cp_model

from scheduler.activities.build import build_network
from scheduler.activities.masks import below
from scheduler.activities.network import WINDOW_RULES, Activity, BayClass, Network, Path, Stay
from scheduler.activities.subset import subset
from scheduler.check.registry import CHECKS
from scheduler.model.build import MODEL_RULES, build_model
from scheduler.rules import RULES
from tests.random_shop import random_shop

Break = Callable[[Network], Network]


def _solves(net: Network, without: tuple[str, ...] = ()) -> bool:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.max_time_in_seconds = 60
    status = solver.solve(build_model(net, without).model)
    assert status in (cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.INFEASIBLE)
    return bool(status != cp_model.INFEASIBLE)


@pytest.fixture(scope="module")
def net() -> Network:
    """Two units of a random shop in one order's worth of room, both of them with two coats at least."""
    whole = build_network(random_shop(1, 6, days=16)).network
    return subset(whole, {path.unit for path in whole.paths[:2]})


def _change(net: Network, name: str, **changes: object) -> Network:
    """Change the first activity of that name."""
    at = next(i for i, a in enumerate(net.activities) if a.name == name)
    activity = replace(net.activities[at], **changes)  # type: ignore[arg-type]
    return replace(net, activities=(*net.activities[:at], activity, *net.activities[at + 1 :]))


def _named(net: Network, name: str) -> Activity:
    return next(a for a in net.activities if a.name == name)


def _shut_window(rule: str) -> Break:
    def broken(net: Network) -> Network:
        windows = {**_named(net, "coat-1").windows, rule: {}}
        return _change(net, "coat-1", windows=windows)

    return broken


def _never(rule: str) -> Break:
    """No start is early enough for the first wait of the rule."""

    def broken(net: Network) -> Network:
        at = next(k for k, lag in enumerate(net.lags) if lag.rule == rule)
        lag = net.lags[at]
        classes = {**lag.earliest, **lag.latest}
        over = dict.fromkeys(classes, (net.slots,) * (net.slots + 1))
        return replace(net, lags=(*net.lags[:at], replace(lag, earliest=over), *net.lags[at + 1 :]))

    return broken


def _empty_pool(*keys: str) -> Break:
    return lambda net: replace(net, pools=tuple(replace(p, capacity=0) if p.key.startswith(keys) else p for p in net.pools))


def _crowded_place(net: Network) -> Network:
    return replace(net, classes=tuple(replace(c, taken=((0, net.slots, c.places),)) if c.bays else c for c in net.classes))


def _absent(*, people: bool) -> Break:
    return lambda net: replace(net, workers=tuple(replace(w, free=0) if w.is_person == people else w for w in net.workers))


def _moved_in_before_received(net: Network) -> Network:
    activity = _named(net, "move_in-prepare")
    windows = {**activity.windows, "done_work": dict.fromkeys(activity.windows["done_work"], 1)}
    return _change(net, "move_in-prepare", windows=windows)


def _alone_at_the_gun(net: Network) -> Network:
    return _change(net, "coat-1", crew=(("sprayer", 1),))


def _no_filters(net: Network) -> Network:
    return replace(net, workers=tuple(replace(w, respirator_slots=0) if w.is_person else w for w in net.workers))


def _out_of_stock(net: Network) -> Network:
    return replace(net, sources=tuple(replace(s, packs=0, gives_ul=0, begun_ul=0) for s in net.sources))


def _only_a_lapsed_pack(net: Network) -> Network:
    """Lots lack one pack; an opened pack that would make up for it has lapsed."""
    lining = [a for a in net.activities if a.product == "lining"]
    lot = next(s for s in net.sources if s.product == "lining" and s.last == net.slots)
    short = int(sum(a.volume_ml for a in lining) * 1000) - 1000
    exact = replace(lot, gives_ul=short)
    lapsed = replace(lot, key="OP", packs=1, first=0, last=0, gives_ul=1_000_000, begun_ul=1_000_000)
    others = tuple(s for s in net.sources if s.product != "lining")
    return replace(net, sources=(lapsed, exact, *others))


def _dust_beside_solvent(_net: Network) -> Network:
    """Two units side by side in one bay at the same time, one is ground while the other is wiped."""
    bay = BayClass("B1", ("B1",), 2, below(8), "hall")
    windows = {rule: {1: 1} for rule in WINDOW_RULES}
    common = {"order": "O", "slots": 2, "windows": windows, "starts": {1: 1}}
    dust = Activity(key="A/grind", unit="A", name="grind", stay=0, emits_dust=True, **common)  # type: ignore[arg-type]
    clears = {1: tuple(range(9))}
    vapour = Activity(key="B/wipe", unit="B", name="wipe", stay=1, emits_vapour=True, clears=clears, **common)  # type: ignore[arg-type]
    return Network(
        slots=8,
        day=(0,) * 8,
        activities=(dust, vapour),
        paths=(Path("A", "O", 0, 0, (0,), late_pickup=False), Path("B", "O", 1, 1, (1,), late_pickup=False)),
        stays=(Stay("A", "work", 0, 0, (1,)), Stay("B", "work", 1, 1, (1,))),
        lags=(),
        classes=(BayClass("yard", (), 2, below(8), None), bay),
        workers=(),
        pools=(),
        dues=(),
    )


BREAKS: dict[str, Break] = {
    **{rule: _shut_window(rule) for rule in ("bay_fit", "shift_hours", "weather_window", "release", "pinned_work", "done_work")},
    **{rule: _never(rule) for rule in ("flash_off", "hold_time", "recoat_window", "dry_to_handle", "return_to_service")},
    "step_order": _moved_in_before_received,
    "bay_places": _crowded_place,
    "lifting": _absent(people=False),
    "crew_skills": _absent(people=True),
    "spray_attendant": _alone_at_the_gun,
    "respirator_hours": _no_filters,
    "air_supply": _empty_pool("air"),
    "gun_sessions": _empty_pool("gun"),
    "warm_cartridges": _empty_pool("warmer"),
    "cartridge_stock": _out_of_stock,
    "open_life": _only_a_lapsed_pack,
    "air_space": _dust_beside_solvent,
    "units_away": _empty_pool("away"),
    "haulage": _empty_pool("yard"),
}
TOGETHER = {"crew_skills": ("crew_skills", "spray_attendant")}
"""Without people there is nobody to stand by either."""


def test_registry_model_and_checker_have_the_same_rules() -> None:
    """One rule, one name: registry, model, checker and these tests."""
    assert set(RULES) == set(MODEL_RULES) == set(CHECKS) == set(BREAKS)


def test_the_network_is_feasible_as_it_is(net: Network) -> None:
    """All rules together leave a schedule."""
    assert _solves(net)


@pytest.mark.parametrize("rule", sorted(BREAKS))
def test_rule_bites_and_bites_alone(net: Network, rule: str) -> None:
    """The broken network has no schedule with the rule and one without it."""
    if rule == "units_away":
        pools = (*net.pools, replace(net.pools[0], key="away", rule="units_away", capacity=1, taken=()))
        net = replace(net, pools=pools, paths=tuple(replace(p, present=(*p.present, len(pools) - 1)) for p in net.paths))
    broken = BREAKS[rule](net)
    assert not _solves(broken)
    assert _solves(broken, TOGETHER.get(rule, (rule,)))
