"""What is made good: steps put into the route, films on patches, waits renewed; planner, checker and border agree."""

from datetime import timedelta
from itertools import pairwise
from typing import Any

import pytest
from check.tiny import move
from prime_bay import with_prime_bay
from random_shop import random_shop
from tiny_shop import METHODS, MONDAY, SITE, tiny_shop

from scheduler.activities.build import build_network
from scheduler.activities.routing import route_of
from scheduler.check import check_schedule
from scheduler.check.required_steps import required_route
from scheduler.pipeline import plan
from scheduler.search.settings import Settings
from scheduler.shop.needs import needs_of
from scheduler.shop.rework_needs import stay_at
from scheduler.shop.shop import Shop

QUICK = Settings(moves=10, workers=1)
CUT_OUT = {"step": "cut_out", "stage": "coat", "set_up_min": 15, "people": "hand:1", "emits": "dust"}
TOUCH_UP = {**next(row for row in METHODS if row["step"] == "coat"), "step": "touch_up"}


def _shop(*rework: dict[str, Any], **tables: Any) -> Shop:
    rows = [{"unit_id": "U1", **row} for row in rework]
    return tiny_shop(**{"rework": rows, "methods": [*METHODS, CUT_OUT, TOUCH_UP], **tables})


def _names(shop: Shop, unit_id: str = "U1") -> list[str]:
    return [step.name for step in route_of(shop, unit_id).steps]


BASE = _names(_shop())


@pytest.mark.parametrize(
    ("row", "new"),
    [
        ({"after": "coat-1", "kind": "abrade"}, ["abrade-r1", "wipe-r1"]),
        ({"after": "move_in-coat", "kind": "abrade"}, ["abrade-r1"]),
        ({"after": "wipe", "kind": "wipe"}, ["wipe-r1"]),
        ({"after": "coat-1", "kind": "repair", "share_pct": 5}, ["cut_out-r1", "wipe-r1", "touch_up-r1"]),
        ({"after": "coat-2", "kind": "redo"}, ["abrade-r1", "wipe-r1", "coat-2-r1"]),
        ({"after": "coat-1", "kind": "rest", "share_pct": 40}, ["coat-1-r1"]),
        (
            {"after": "move_out-coat", "kind": "repair", "share_pct": 5},
            ["move_in-coat-r1", "cut_out-r1", "wipe-r1", "touch_up-r1", "inspect-r1", "move_out-coat-r1"],
        ),
        ({"after": "abrade", "kind": "rest", "share_pct": 40}, ["abrade-r1"]),
    ],
)
def test_steps_go_in_after_the_one_that_is_named(row: dict[str, Any], new: list[str]) -> None:
    """All other steps are as before; what is wiped before the next film anyway is not wiped twice."""
    at = BASE.index(row["after"]) + 1
    assert _names(_shop(row)) == [*BASE[:at], *new, *BASE[at:]]


def test_rows_build_on_each_other() -> None:
    """A touch-up that failed is done again; each row has a number of its own."""
    names = _names(
        _shop(
            {"after": "coat-1", "kind": "repair", "share_pct": 10},
            {"after": "touch_up-r1", "kind": "redo", "film": "touch_up-r1"},
        )
    )
    at = names.index("touch_up-r1") + 1
    assert names[at : at + 4] == ["abrade-r2", "wipe-r2", "touch_up-r1-r2", "coat-2"]


def test_a_patch_gets_back_what_lay_there() -> None:
    """5 % of 10 m² after both coats of 500 um: 0.5 m² with 1000 um and 35 um of profile take 517.5 mL."""
    row = {"after": "coat-2", "kind": "repair", "film": "coat-1", "share_pct": 5}
    film = next(step.film for step in route_of(_shop(row), "U1").steps if step.name == "touch_up-r1")
    assert film is not None
    assert (film.area_m2, film.product_id) == (0.5, "lining")
    assert film.volume_ml == pytest.approx(517.5)


@pytest.mark.parametrize("kind", ["abrade", "redo"])
def test_abrading_renews_the_recoat_window_and_a_repair_does_not(kind: str) -> None:
    """A film that is abraded takes the next one whenever it comes; beside patches the window of the film stays."""
    for row, renewed in (({"after": "coat-1", "kind": kind}, True), ({"after": "coat-1", "kind": "repair"}, False)):
        films = route_of(_shop(row), "U1").films
        pairs = {(films.films[a].name, films.films[b].name) for a, b in films.pairs}
        follows = next(pair for pair in pairs if pair[0] == "coat-1")
        assert (follows in films.renewed) == renewed
    patched = route_of(_shop({"after": "coat-1", "kind": "repair"}), "U1").films
    assert {(patched.films[a].name, patched.films[b].name) for a, b in patched.pairs} == {
        ("prime", "coat-1"),
        ("coat-1", "coat-2"),
        ("touch_up-r1", "coat-2"),
    }


@pytest.mark.parametrize("seed", range(6))
def test_planner_checker_and_border_need_the_same(seed: int) -> None:
    """Names, stages, areas, millilitres and packs on random shops, each row of rework after a step drawn from the route.

    Every other film is made good in a stage of its own, to which the unit goes back from wherever it stands.
    """
    shop = with_prime_bay(random_shop(seed, 3))
    rows: list[dict[str, Any]] = []
    for n, kind in enumerate(("repair", "rest", "abrade", "redo", "rest", "repair", "rest", "wipe", "rest")):
        unit = shop.units[(seed + n) % 3].unit_id
        steps = [
            s
            for s in route_of(_with(shop, rows), unit).steps
            if s.film
            or (kind in {"repair", "redo"} and s.name == "move_in-coat")
            or (kind == "rest" and s.method.m2_per_h)
            or (kind in {"repair", "redo"} and s.name.startswith("move_out-coat"))
        ]
        after = steps[(seed + n) % len(steps)].name
        rows.append({"unit_id": unit, "after": after, "kind": kind, "share_pct": 10 + n})
        if kind in {"repair", "redo"} and (seed + n) % 2:
            rows[-1] |= {"stage": ("prime", "coat")[(seed + n) // 2 % 2]}
    made = _with(shop, rows)
    for unit_id in made.unit_by_id:
        mine, theirs, border = route_of(made, unit_id).steps, required_route(made, unit_id).steps, needs_of(made, unit_id)
        assert [s.name for s in mine] == [s.name for s in theirs] == [n.name for n in border]
        stays = [(s.stage or "yard") for s in mine]
        assert stays == [s.stage for s in theirs] == [(stay_at(border, n.name) or "yard") for n in border]
        for one, two, three in zip(mine, theirs, border, strict=True):
            assert one.area_m2 in (0.0, pytest.approx(two.area_m2))  # a move without a rate has none
            assert one.minutes == pytest.approx(three.minutes)
            if one.film is not None and two.film is not None:
                assert (one.film.volume_ml, one.film.packs) == (pytest.approx(two.film.volume_ml), two.film.packs)
                assert three.packs >= one.film.packs or one.name.startswith("touch_up-r")
        assert _pairs(made, unit_id) == _pairs_checked(made, unit_id)


def _pairs(shop: Shop, unit_id: str) -> set[tuple[str, str]]:
    films = route_of(shop, unit_id).films
    return {(films.films[a].name, films.films[b].name) for a, b in films.pairs}


def _pairs_checked(shop: Shop, unit_id: str) -> set[tuple[str, str]]:
    """Films that follow each other on some part by the checker's reckoning."""
    films = [step for step in required_route(shop, unit_id).steps if step.film is not None]
    parts = {part for step in films if step.film for part in step.film.parts}
    on = ([step.name for step in films if step.film and part in step.film.parts] for part in parts)
    return {pair for names in on for pair in pairwise(names)}


def _with(shop: Shop, rows: list[dict[str, Any]]) -> Shop:
    return Shop.model_validate({**{name: getattr(shop, name) for name in Shop.model_fields}, "rework": rows})


@pytest.mark.parametrize("kind", ["abrade", "repair", "redo"])
def test_a_unit_whose_window_is_over_is_planned_with_its_rework(kind: str) -> None:
    """U1 had its first coat a week ago, the maximum is 48 h: abraded it can be coated again, with patches alone it cannot."""
    steps = BASE[: BASE.index("coat-1") + 1]
    done = [
        {
            "unit_id": "U1",
            "step": name,
            "started_at": MONDAY + timedelta(hours=n),
            "ended_at": MONDAY + timedelta(hours=n + 1),
            "bay_id": None if name == "receive" else "B1" if n < 5 else "B2",
        }
        for n, name in enumerate(steps)
    ]
    site = {**SITE, "plan_from": MONDAY + timedelta(days=7), "plan_until": MONDAY + timedelta(days=13)}
    shop = _shop({"after": "coat-1", "kind": kind, "share_pct": 10}, site=site, done=done)
    if kind == "repair":
        with pytest.raises(RuntimeError, match="no start is left for coat-2"):
            plan(shop, QUICK)
        return
    found = plan(shop, QUICK)
    assert found.report.ok
    names = [work.name for work in found.schedule.work if work.unit_id == "U1" and not work.done]
    assert names[:2] == ["abrade-r1", "wipe-r1"]


@pytest.mark.parametrize(("again", "held"), [(None, {"touch_up-r1"}), ("wipe", {"touch_up-r1"}), ("abrade", set())])
def test_what_was_cut_out_holds_until_it_is_abraded(again: str | None, held: set[str]) -> None:
    """Bare steel in a patch rusts while it waits: wiping it does not help, abrading it does; planner and checker agree."""
    rows = [{"after": "coat-1", "kind": "repair", "share_pct": 5}]
    rows += [{"after": "wipe-r1", "kind": again}] if again else []
    shop = _shop(*rows, methods=[*METHODS, {**CUT_OUT, "hold_h": 8}, TOUCH_UP])
    net = build_network(shop).network
    names = [a.name for a in net.activities if a.unit == "U1"]
    lags = {names[lag.then] for lag in net.lags if lag.first < len(names) and names[lag.first] == "cut_out-r1" and lag.latest}
    assert lags == held
    made = plan(shop, QUICK)
    rest = next(work for work in made.schedule.work if work.name == "touch_up-r1")
    late = check_schedule(shop, move(made.schedule, rest.work_id, rest.start + timedelta(days=2))).breaches
    assert {b.work_ids[0] for b in late if b.rule == "hold_time" and "cut_out" in b.work_ids[0]} == (
        {"U1/cut_out-r1"} if held else set()
    )
