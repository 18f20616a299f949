"""Networks survive being written as text, and nothing else is taken for one."""

import pytest

from scheduler.activities.build import build_network
from scheduler.replan.compact import CompactError, Document, written
from scheduler.replan.like_units import kinds_of, like_unit
from scheduler.replan.room_around import room_around
from scheduler.search.improve import Improver
from tests.random_shop import random_shop


def test_network_placed_room_and_parts_come_back_equal() -> None:
    """Everything in one document; a curve that many steps share is one object again."""
    shop = random_shop(2, 5)
    built = build_network(shop)
    first = Improver(built.network, 1).first()
    assert first is not None
    room = room_around(built.network, first.placed)
    parts = {unit: like_unit(shop, built, unit) for unit in kinds_of(shop)}
    document = {"net": built.network, "placed": first.placed, "room": room, "parts": parts}
    text = Document(written(document).encode())
    found = {name: text[name] for name in document}
    assert found == document
    loads = {id(a.load) for a in found["net"].activities if a.load is not None}
    assert len(loads) == 1


@pytest.mark.parametrize(
    "text", ["", "{}", '{"x": {"r": 3}}', '{"x": {"o": "Popen", "v": []}}', '{"x": {"r": 0}}\t{"o": 1', "[]"]
)
def test_other_texts_are_refused(text: str) -> None:
    """Not JSON, no table, a reference to nothing, a class that is none of ours."""
    with pytest.raises(CompactError):
        Document(text.encode())["x"]
