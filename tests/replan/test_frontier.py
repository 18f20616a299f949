"""The frontier of moves and lateness keeps what nothing beats, and nothing else."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from scheduler.activities.placed import Placed
from scheduler.replan.frontier import Frontier, thinned

PAIRS = st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), min_size=1, max_size=20)


def _placed(moved: int, late: int) -> Placed:
    return Placed((moved, late), (), (), ())


@given(PAIRS)
def test_every_solution_is_beaten_or_there_and_no_point_beats_another(pairs: list[tuple[int, int]]) -> None:
    """More moves always gain lateness, whatever the order in which solutions come."""
    frontier = Frontier()
    for moved, late in pairs:
        frontier.note(moved, late, float(moved + late), lambda m=moved, n=late: _placed(m, n))  # type: ignore[misc]
    points = [(point.moved, point.lateness) for point in frontier.points]
    assert all(any(m <= moved and late <= n for m, late in points) for moved, n in pairs)
    assert all(one[0] < two[0] and one[1] > two[1] for one, two in pairwise(points))
    assert all(point.placed.start == (point.moved, point.lateness) for point in frontier.points)


def test_of_two_alike_the_one_of_less_energy_stays() -> None:
    """Near changes are dearer: as many moves for the same lateness, but later ones."""
    frontier, other = Frontier(), Frontier()
    frontier.note(2, 3, 9.0, lambda: _placed(1, 1))
    other.note(2, 3, 8.0, lambda: _placed(2, 2))
    frontier.take(other)
    frontier.note(2, 3, 8.5, lambda: _placed(3, 3))
    assert [point.placed.start for point in frontier.points] == [(2, 2)]


def test_a_thinned_row_keeps_both_ends() -> None:
    """A short one is left as it is."""
    assert thinned([1, 2, 3], 4) == [1, 2, 3]
    assert thinned(list(range(20)), 5) == [0, 5, 10, 14, 19]
