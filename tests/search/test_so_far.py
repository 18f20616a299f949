"""The best schedule so far: handed out at once, then only if it is better and the pause is over."""

import pytest

from scheduler.activities.placed import Placed
from scheduler.schedule.schedule import Status
from scheduler.search.outcome import Bounds, News, Outcome
from scheduler.search.so_far import PAUSE_S, SoFar


def outcome(placed: Placed | None) -> Outcome:
    """An outcome with a solution or none."""
    return Outcome(Status.FEASIBLE, placed, None, Bounds(0, 0, ()), "insertion", 0.0, 1.0)


def news(placed: Placed | None) -> News:
    """News of a solution."""
    return News(1.0, 3, 0, 0.1, so_far=lambda: outcome(placed))


def solution(start: int) -> Placed:
    """A solution that is told from others by its start."""
    return Placed((start,), (), ((),), ((),))


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """A clock that a test sets."""
    now = [100.0]
    monkeypatch.setattr("scheduler.search.so_far.time.perf_counter", lambda: now[0])
    return now


def test_it_is_handed_out_at_once_and_again_only_after_the_pause(clock: list[float]) -> None:
    """A better one within the pause waits; after it the one that is best then is handed out, and nothing twice."""
    kept: list[int] = []
    heard: list[News] = []
    so_far = SoFar(lambda found: found.placed, lambda placed: kept.append(placed.start[0]), heard.append)
    for start in (1, 2, 3):
        so_far(news(solution(start)))
    assert kept == [1]
    clock[0] += PAUSE_S
    last = solution(4)
    so_far(news(last))
    clock[0] += PAUSE_S
    so_far(news(last))
    assert kept == [1, 4]
    assert len(heard) == 5


def test_a_costly_check_makes_the_pause_longer(clock: list[float]) -> None:
    """Writing out takes a small share of the time however long one takes."""
    made: list[Placed] = []

    def make(found: Outcome) -> Placed | None:
        clock[0] += 10.0
        return found.placed

    so_far = SoFar(make, made.append, lambda _news: None)
    so_far(news(solution(1)))
    clock[0] += 100.0
    so_far(news(solution(2)))
    assert len(made) == 1
    clock[0] += 100.0
    so_far(news(solution(3)))
    assert len(made) == 2


def test_what_is_not_fit_to_be_seen_is_not_kept(clock: list[float]) -> None:
    """No solution, or one that was refused, is not handed out."""
    kept: list[Placed] = []
    so_far = SoFar(lambda found: None, kept.append, lambda _news: None)
    so_far(news(None))
    so_far(news(solution(1)))
    assert kept == []
