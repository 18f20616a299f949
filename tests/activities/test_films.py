"""Films of a unit: which coats, over which area, how much product, one after the other on which part."""

import pytest
from tiny_shop import COATS, SURFACE, UNIT, tiny_shop

from scheduler.activities.films import Film, Films, films_of
from scheduler.activities.routing import route_of
from scheduler.check.needed_films import needed_films
from scheduler.check.required_steps import required_route
from scheduler.shop.needs import needs_of
from scheduler.shop.shop import Shop


def _coat(
    coat: int, applies_to: str, product_id: str = "lining", dft_um: float = 500, system_id: str = "S1"
) -> dict[str, object]:
    return {"system_id": system_id, "coat": coat, "applies_to": applies_to, "product_id": product_id, "dft_um": dft_um}


def _shop(*surfaces: dict[str, object], coats: tuple[dict[str, object], ...] = COATS) -> Shop:
    """One unit with these surfaces, each of 10 m² and bare unless it says otherwise."""
    rows = [{"unit_id": "U1", **SURFACE, "surface": f"side {i}", **row} for i, row in enumerate(surfaces)]
    methods = [
        *({"step": s, "stage": "coat", "people": "sprayer:1 attendant:1", "tools": "gun"} for s in ("touch_up", "texture")),
        {"step": "cut_out", "stage": "coat", "people": "hand:1"},
        {"step": "strip", "stage": "prepare", "people": "hand:1"},
    ]
    base = tiny_shop()
    return tiny_shop(units=[{"unit_id": "U1", **UNIT}], surfaces=rows, coating_systems=coats, methods=[*base.methods, *methods])


def _by_name(films: Films) -> dict[str, Film]:
    return {film.name: film for film in films.films}


def _pairs(films: Films) -> set[tuple[str, str]]:
    return {(films.films[a].name, films.films[b].name) for a, b in films.pairs}


def test_volumes_are_area_times_film_and_what_the_profile_swallows() -> None:
    """10 m² x (90 um + 35 um of profile) = 1250 mL of primer; 10 m² x 500 um = 5000 mL a coat, five packs of 1000 mL."""
    films = _by_name(films_of(_shop({}), "U1"))
    assert {n: (f.area_m2, f.volume_ml, f.packs) for n, f in films.items()} == {
        "prime": (10, pytest.approx(1250), 1),
        "coat-1": (10, pytest.approx(5000), 5),
        "coat-2": (10, pytest.approx(5000), 5),
    }


def test_the_profile_of_a_sound_part_is_filled_by_its_first_coat() -> None:
    """Half of the surface flakes: 5 m² are primed, and the first coat fills the profile of the other 5 m² only.

    5 m² x 125 um = 625 mL; 5 x 500 + 5 x 535 = 5175 mL, six packs; 10 x 500 = 5000 mL.
    """
    films = _by_name(films_of(_shop({"substrate": "failing", "failing_pct": 50}), "U1"))
    assert {n: f.volume_ml for n, f in films.items()} == pytest.approx({"prime": 625, "coat-1": 5175, "coat-2": 5000})
    assert films["coat-1"].packs == 6


def test_a_coat_over_several_surfaces_is_one_step_and_its_reason_names_them() -> None:
    """Common practice, no source: a coat is sprayed over all surfaces that get it in one run."""
    films = _by_name(films_of(_shop({"surface": "tub"}, {"surface": "rim", "substrate": "sound"}), "U1"))
    assert films["coat-1"].area_m2 == 20
    assert films["prime"].reason == "bare steel needs a bonding primer: tub"
    assert films["coat-2"].reason == "keeps rust away: tub, rim"


def test_films_follow_each_other_on_every_part_that_gets_them() -> None:
    """Primer and coat on the bare part, coat on coat on both; a repair and a grip surface end with films of their own."""
    coats = (*COATS, _coat(4, "impact"), _coat(5, "grip", dft_um=100))
    films = films_of(
        _shop({}, {"duty": "impact"}, {"grip": True}, {"substrate": "blistered", "failing_pct": 10}, coats=coats), "U1"
    )
    assert [f.name for f in films.films] == ["prime", "coat-1", "coat-2", "coat-3", "touch_up", "texture"]
    assert _pairs(films) == {("prime", "coat-1"), ("coat-1", "coat-2"), ("coat-2", "coat-3"), ("coat-2", "texture")}
    assert {films.films[i].name for i in films.lasts} == {"coat-2", "coat-3", "touch_up", "texture"}


def test_a_repair_gets_all_coats_at_once_over_the_blisters_only() -> None:
    """Common practice, no source: 10 % of 10 m² is cut out; 1 m² x (2 x 500 um + 35 um of profile) = 1035 mL."""
    touch_up = _by_name(films_of(_shop({"substrate": "blistered", "failing_pct": 10}), "U1"))["touch_up"]
    assert (touch_up.area_m2, touch_up.coat_numbers, touch_up.packs) == (1, (2, 3), 2)
    assert touch_up.volume_ml == pytest.approx(1035)
    assert touch_up.reason == "blisters were cut out: side 0"


def test_a_texture_under_a_coat_comes_before_it() -> None:
    """Coats go on in the order of their numbers, also where the texture for grip is not the last."""
    coats = (COATS[1], _coat(3, "grip"), _coat(4, "all"))
    films = films_of(_shop({"substrate": "sound", "grip": True}, coats=coats), "U1")
    assert [f.name for f in films.films] == ["coat-1", "texture", "coat-2"]
    assert _pairs(films) == {("coat-1", "texture"), ("texture", "coat-2")}


def test_repairs_of_several_systems_with_one_product_are_one_step() -> None:
    """One gun, one product, one run; the other system's texture comes after it."""
    coats = (*COATS, _coat(1, "all", system_id="S2"), _coat(2, "grip", system_id="S2"))
    blisters = {"substrate": "blistered", "failing_pct": 10}
    shop = _shop(blisters, {**blisters, "system_id": "S2"}, {"substrate": "sound", "grip": True, "system_id": "S2"}, coats=coats)
    films = films_of(shop, "U1")
    assert [f.name for f in films.films] == ["coat-1", "touch_up", "texture"]


SURFACES = (
    ({},),
    ({"substrate": "sound"}, {"substrate": "failing", "failing_pct": 30}),
    ({"substrate": "blistered", "failing_pct": 10},),
    ({"substrate": "blistered", "failing_pct": 10}, {"duty": "impact"}),
    ({"grip": True}, {"substrate": "blistered", "failing_pct": 20, "system_id": "S2"}, {"system_id": "S2", "grip": True}),
    ({"system_id": "S2", "duty": "impact"}, {"duty": "impact", "grip": True, "profile_um": 0}),
)


@pytest.mark.parametrize("surfaces", SURFACES)
def test_planner_checker_and_border_work_out_the_same_route(surfaces: tuple[dict[str, object], ...]) -> None:
    """Three reckonings written apart agree on every step and its minutes, planner and checker on its product too."""
    coats = (
        *COATS,
        _coat(4, "impact"),
        _coat(5, "grip", dft_um=100),
        _coat(1, "bare", "primer", 60, "S2"),
        _coat(2, "all", "lining", 700, "S2"),
        _coat(4, "grip", "lining", 150, "S2"),
    )
    shop = _shop(*surfaces, coats=coats)
    mine, theirs = route_of(shop, "U1").steps, required_route(shop, "U1").steps
    assert [(s.name, s.step) for s in mine] == [(s.name, s.step) for s in theirs]
    assert [s.minutes for s in mine] == pytest.approx([s.minutes(shop.method_of[s.step]) for s in theirs])
    border = needs_of(shop, "U1")
    assert [(n.name, n.step) for n in border] == [(s.name, s.step) for s in mine]
    assert [n.minutes for n in border] == pytest.approx([s.minutes for s in mine])
    films, needed = films_of(shop, "U1").films, needed_films(shop, "U1")
    assert [(f.product_id, f.packs) for f in films] == [(f.product.product_id, f.packs) for f in needed]
    assert [f.volume_ml for f in films] == pytest.approx([f.volume_ml for f in needed])


def test_a_unit_with_sound_and_blistered_surfaces_is_washed_and_inspected_all_over() -> None:
    """10 m² to coat and 10 m² with blisters: 20 m² to wash and to inspect, 10 m² to abrade, 11 m² to wipe."""
    route = route_of(_shop({}, {"substrate": "blistered", "failing_pct": 10}), "U1")
    area = {s.name: s.area_m2 for s in route.steps}
    assert (area["wash"], area["abrade"], area["wipe"], area["cut_out"], area["inspect"]) == (20, 10, 11, 1, 20)


def test_moves_take_longer_for_large_units_where_the_method_says_so() -> None:
    """15 min of set-up and 10 m² at 60 m²/h: 25 min."""
    base = tiny_shop()
    methods = [m.model_copy(update={"m2_per_h": 60.0}) if m.step == "move_in" else m for m in base.methods]
    route = route_of(tiny_shop(methods=methods), "U1")
    assert [s.minutes for s in route.steps if s.step == "move_in"] == [25, 25]
    assert [s.minutes for s in route.steps if s.step == "move_out"] == [15, 15]
