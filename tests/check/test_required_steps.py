"""The steps that the checker holds a unit to need, worked by hand from its surfaces."""

from typing import Any

import pytest
from tiny_shop import COATS, METHODS, SURFACE, UNIT, tiny_shop

from scheduler.check.required_steps import NeededStep, required_route

MORE_COATS = (
    *COATS,
    {"system_id": "S1", "coat": 4, "applies_to": "impact", "product_id": "lining", "dft_um": 300},
    {"system_id": "S1", "coat": 5, "applies_to": "grip", "product_id": "lining", "dft_um": 200},
)
SPRAY = {"stage": "coat", "set_up_min": 30, "m2_per_h": 20, "people": "sprayer:1 attendant:1", "tools": "gun", "emits": "vapour"}
ALL_METHODS = (
    *METHODS,
    {"step": "strip", "stage": "prepare", "m2_per_h": 4, "people": "hand:1"},
    {"step": "cut_out", "stage": "coat", "m2_per_h": 4, "people": "hand:1"},
    {"step": "touch_up", **SPRAY},
    {"step": "texture", **SPRAY},
)


def _steps(*surfaces: dict[str, Any], **tables: Any) -> dict[str, NeededStep]:
    rows = [{"unit_id": "U1", **SURFACE, "surface": f"s{n}", **change} for n, change in enumerate(surfaces)]
    shop = tiny_shop(
        units=[{"unit_id": "U1", **UNIT}],
        surfaces=rows,
        **{"methods": ALL_METHODS, "coating_systems": MORE_COATS, **tables},
    )
    return {step.name: step for step in required_route(shop, "U1").steps}


PREPARE = ["receive", "move_in-prepare", "wash", "abrade", "move_out-prepare", "move_in-coat"]
END = ["inspect", "move_out-coat", "dispatch"]


@pytest.mark.parametrize(
    ("surface", "names"),
    [
        ({"substrate": "bare"}, [*PREPARE, "wipe", "prime", "coat-1", "coat-2", *END]),
        ({"substrate": "sound"}, [*PREPARE, "wipe", "coat-1", "coat-2", *END]),
        ({"substrate": "sound", "duty": "impact"}, [*PREPARE, "wipe", "coat-1", "coat-2", "coat-3", *END]),
        ({"substrate": "sound", "grip": True}, [*PREPARE, "wipe", "coat-1", "coat-2", "texture", *END]),
        (
            {"substrate": "failing", "failing_pct": 30},
            [*PREPARE[:3], "strip", *PREPARE[3:], "wipe", "prime", "coat-1", "coat-2", *END],
        ),
        (
            {"substrate": "blistered", "failing_pct": 20, "duty": "impact", "grip": True},
            ["receive", "move_in-coat", "cut_out", "wipe", "touch_up", *END],
        ),
    ],
)
def test_steps_follow_from_the_substrate_and_the_duty(surface: dict[str, Any], names: list[str]) -> None:
    """Bare steel is primed, failing coating stripped, impact and grip get their coats, blisters are cut out and touched up.

    Common practice, no source.
    """
    assert list(_steps(surface)) == names


def test_a_touch_up_comes_after_the_coats_and_before_the_texture() -> None:
    """A unit with a gripping surface and a blistered one: one chain, and only the sound surface is abraded."""
    steps = _steps({"substrate": "sound", "grip": True}, {"substrate": "blistered", "failing_pct": 20, "area_m2": 5})
    films = ["coat-1", "coat-2", "touch_up", "texture"]
    assert list(steps) == [*PREPARE, "cut_out", "wipe", *films, *END]
    assert [steps[name].area_m2 for name in ("wash", "abrade", "cut_out", "wipe", "touch_up")] == [15, 10, 1, 11, 1]


def test_a_failing_surface_is_primed_where_it_is_stripped_and_takes_profile_once() -> None:
    """30 % of 10 m² failing: 3 m² stripped and primed; the first coat on the 7 m² of sound coating fills the profile there.

    Profile of 75 um swallows 35 um (published guide; from memory). Primer 3 x (90 + 35) = 375 mL; first coat
    3 x 500 + 7 x 535 = 5245 mL, 6 packs of 1000 mL; second coat 5000 mL, 5 packs.
    """
    steps = _steps({"substrate": "failing", "failing_pct": 30})
    assert [steps["strip"].area_m2, steps["prime"].area_m2, steps["coat-1"].area_m2] == [3, 3, 10]
    films = [steps[name].film for name in ("prime", "coat-1", "coat-2")]
    assert [round(film.volume_ml, 6) for film in films if film] == [375, 5245, 5000]
    assert [film.packs for film in films if film] == [1, 6, 5]
    assert [len(film.parts) for film in films if film] == [1, 2, 2]


def test_a_touch_up_builds_the_coats_for_all_surfaces_in_one() -> None:
    """2 m² of blisters: 500 + 500 um, and 35 um that the profile swallows, are 2070 mL; coats for impact and grip stay off."""
    touch_up = _steps({"substrate": "blistered", "failing_pct": 20, "duty": "impact", "grip": True})["touch_up"]
    assert touch_up.film is not None
    assert touch_up.film.volume_ml == pytest.approx(2070)
    assert touch_up.film.numbers == (2, 3)


def test_coats_of_one_number_and_product_are_one_run_over_all_surfaces() -> None:
    """Two surfaces, one for impact: the coat for impact covers that one only, the others both."""
    steps = _steps({"substrate": "sound"}, {"substrate": "sound", "duty": "impact", "area_m2": 4})
    assert [steps[name].area_m2 for name in ("coat-1", "coat-2", "coat-3")] == [14, 14, 4]


def test_two_primers_carry_numbers_and_a_lone_one_does_not() -> None:
    """Names as the schedule writes them: prime where there is one, prime-1 and prime-2 where there are two."""
    second = {"system_id": "S1", "coat": 6, "applies_to": "bare", "product_id": "lining", "dft_um": 100}
    assert "prime" in _steps({"substrate": "bare"})
    assert {"prime-1", "prime-2"} <= set(_steps({"substrate": "bare"}, coating_systems=(*COATS, second)))


def test_a_step_without_a_method_is_left_out_unless_a_film_needs_it() -> None:
    """A shop that does not wash has no wash; a shop without a way to abrade cannot serve the unit."""
    without = [row for row in ALL_METHODS if row["step"] not in {"wash", "abrade"}]
    shop = tiny_shop(methods=without)
    route = required_route(shop, "U1")
    assert not {"wash", "abrade"} & {step.name for step in route.steps}
    assert route.without_method == ("abrade",)


def test_the_length_of_a_step_is_set_up_and_area_over_rate() -> None:
    """10 m² at 20 m²/h with 30 min set-up is an hour; a move has its set-up time only."""
    shop = tiny_shop()
    steps = {step.name: step for step in required_route(shop, "U1").steps}
    lengths = {name: steps[name].minutes(shop.method_of[steps[name].step]) for name in ("coat-1", "move_in-coat", "abrade")}
    assert lengths == {"coat-1": 60, "move_in-coat": 15, "abrade": 60}
