"""Steps in the words of the shop floor, those that make something good included."""

import pytest
from random_shop import random_shop

from scheduler.activities.routing import route_of
from scheduler.documents.words.work_words import WorkWords
from scheduler.pipeline import plan
from scheduler.search.settings import Settings
from scheduler.shop.shop import Shop


@pytest.fixture(scope="module")
def said() -> dict[str, str]:
    """Words by step name, of a unit whose first coat was stopped and done again, and that came back for blisters."""
    shop = random_shop(3, 2)
    rows = [
        {"unit_id": "U1", "after": "abrade", "kind": "rest", "share_pct": 40, "reason": "stopped, rain"},
        {"unit_id": "U1", "after": "coat-1", "kind": "rest", "share_pct": 40, "reason": "stopped, rain"},
        {"unit_id": "U1", "after": "coat-1-r2", "kind": "redo", "reason": "runs"},
        {"unit_id": "U1", "after": "move_out-coat", "kind": "repair", "share_pct": 5, "reason": "blisters"},
    ]
    shop = Shop.model_validate({**{name: getattr(shop, name) for name in Shop.model_fields}, "rework": rows})
    assert {"abrade-r1", "coat-1-r2", "coat-1-r2-r3"} <= {step.name for step in route_of(shop, "U1").steps}
    schedule = plan(shop, Settings(moves=3, workers=1)).schedule
    words = WorkWords(shop, schedule)
    return {work.name: words.step(work) for work in schedule.work if work.unit_id == "U1"}


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("abrade", "Abrade"),
        ("abrade-r1", "Abrade, the rest"),
        ("coat-1", "Coat 1"),
        ("coat-1-r2", "Coat 1, the rest"),
        ("coat-1-r2-r3", "Coat 1, again"),
        ("wipe-r3", "Solvent wipe, again"),
        ("move_in-coat-r4", "Move in, again"),
        ("cut_out-r4", "Cut out"),
        ("touch_up-r4", "Touch up"),
    ],
)
def test_a_step_says_whether_it_is_a_rest_or_done_again(said: dict[str, str], name: str, words: str) -> None:
    """Nobody has to know what -r2 means."""
    assert said[name] == words
