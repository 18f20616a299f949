"""The day of several units with nothing moved: found by the solver where insertion misses it, and proven to be the first."""

from datetime import timedelta

import pytest

from scheduler.pipeline import Plan, plan
from scheduler.replan.complete import complete, ruled_out
from scheduler.replan.filled import filled, starts_in
from scheduler.replan.quote_free import into_free
from scheduler.search.narrow import narrow
from scheduler.search.settings import Settings
from tests.random_shop import random_shop
from tests.replan.asking import asked_lines, evening_of, least_days_late


def _few(seed: int) -> Plan:
    return plan(random_shop(seed, 2, days=21), Settings(moves=1, workers=1))


@pytest.mark.parametrize(
    ("seed", "counts", "spare", "arrive_d", "missed"),
    [
        (29, {"U2": 2}, None, 4, True),
        (79, {"U1": 2}, None, 0, True),
        (18, {"U1": 2}, 2, 0, False),
    ],
)
def test_a_completed_day_is_kept_and_proven_as_by_full_solve(
    seed: int, counts: dict[str, int], spare: int | None, arrive_d: int, *, missed: bool
) -> None:
    """Insertion alone is a day late on the first two; completed, the day is on time in the whole model and none before is."""
    few = _few(seed)
    room, parts, _, _ = asked_lines(few, counts, spare, arrive_d)
    found = into_free(room, parts)
    done = complete(room, parts, found, 1, None)
    assert found is not None
    assert done.answer is not None
    assert done.day_proven
    assert (evening_of(few, done.answer.last) < evening_of(few, found.last)) == missed
    evening = evening_of(few, done.answer.last)
    assert least_days_late(few, counts, spare, arrive_d, evening) == 0
    assert least_days_late(few, counts, spare, arrive_d, evening - timedelta(days=1)) >= 1


def test_that_units_do_not_fit_in_at_all_is_proven() -> None:
    """More units of a kind than the three weeks have room for."""
    few = _few(73)
    room, parts, _, _ = asked_lines(few, {"U2": 2, "U1": 2}, 2, 4)
    assert into_free(room, parts) is None
    done = complete(room, parts, None, 1, None)
    assert done == complete(room, parts, None, 1, None)
    assert done.answer is None
    assert done.day_proven


def test_a_day_is_ruled_out_without_a_solver_where_a_unit_alone_takes_longer() -> None:
    """The waits of one unit fill the days: no earlier one can be. Where only the shop is in the way, that says nothing."""
    for seed, counts, arrive_d, alone in ((84, {"U1": 2}, 1, True), (18, {"U1": 2}, 0, False)):
        room, parts, _, _ = asked_lines(_few(seed), counts, None, arrive_d)
        assert ruled_out(room, parts, into_free(room, parts)) == alone


def test_what_is_filled_of_a_room_leaves_what_insertion_finds() -> None:
    """Every start that insertion gave a unit in the room is one that the filled network leaves it, until the very slot."""
    room, parts, _, _ = asked_lines(_few(7), {"U1": 1, "U2": 1}, 2, 3)
    found = into_free(room, parts)
    assert found is not None
    net = filled(room, parts)
    starts = starts_in(room, net, found.last)
    assert narrow(net, starts)
    for i, start in enumerate(found.placed.start):
        k = net.activities[i].stay
        c = found.placed.bay_class[k] if k >= 0 else 0
        assert starts[i][c] >> start & 1
    sooner = starts_in(room, net, found.last - 1)
    last = found.net.paths[found.ends.index(found.last)].last
    assert not sooner[last][0] >> found.placed.start[last] & 1


def test_no_solver_is_asked_where_its_model_would_take_too_long(monkeypatch: pytest.MonkeyPatch) -> None:
    """Then nothing is claimed."""
    monkeypatch.setattr("scheduler.replan.soonest.MOST_STARTS", 10)
    room, parts, _, _ = asked_lines(_few(79), {"U1": 2}, None, 0)
    found = into_free(room, parts)
    done = complete(room, parts, found, 1, None)
    assert done.answer is found
    assert not done.day_proven
