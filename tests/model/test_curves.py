"""Curves in linear pieces say exactly what the curve says, whatever its shape."""

from collections.abc import Callable

from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from model.tiny_networks import SLOTS, YARD, network, step
from scheduler.activities.network import Curve
from scheduler.model.curves import Piece, at_least, at_most, pieces
from scheduler.model.variables import Literal, Variables

QUICK = settings(max_examples=60, deadline=None)
CURVES = st.lists(st.integers(-1, SLOTS), min_size=SLOTS + 1, max_size=SLOTS + 1).map(lambda rows: tuple(sorted(rows)))
STARTS = st.sets(st.integers(0, SLOTS - 1), min_size=1)
Say = Callable[[Variables, cp_model.IntVar, Curve, int, list[Literal]], None]


class _All(cp_model.CpSolverSolutionCallback):
    def __init__(self, *variables: cp_model.IntVar) -> None:
        super().__init__()
        self.variables, self.found = variables, set[tuple[int, ...]]()

    def on_solution_callback(self) -> None:
        self.found.add(tuple(self.value(v) for v in self.variables))


def _solutions(starts: set[int], slots: int, curve: Curve, say: Say, *, under: bool) -> set[tuple[int, int, bool]]:
    v = Variables(network(step("A/first", slots)))
    v.allowed[0][YARD] = sum(1 << s for s in starts if s + slots <= SLOTS)
    v.create()
    target, literal = v.model.new_int_var(0, SLOTS, "target"), v.model.new_bool_var("where")
    say(v, target, curve, 0, [literal] if under else [])
    solver = cp_model.CpSolver()
    solver.parameters.enumerate_all_solutions = True
    every = _All(v.start[0], target, literal)
    solver.solve(v.model, every)
    return {(s, t, bool(on)) for s, t, on in every.found}


def _expected(starts: set[int], slots: int, holds: Callable[[int, int], bool], *, under: bool) -> set[tuple[int, int, bool]]:
    fits = [s for s in starts if s + slots <= SLOTS]
    rows = ((s, t, on) for s in fits for t in range(SLOTS + 1) for on in (False, True))
    return {(s, t, on) for s, t, on in rows if (under and not on) or holds(s + slots, t)}


@QUICK
@given(curve=CURVES, starts=STARTS, slots=st.integers(1, 3), under=st.booleans())
def test_no_sooner_than_the_curve(curve: Curve, starts: set[int], slots: int, under: bool) -> None:
    """Every pair of start and target, against looking the curve up; nothing is said where the literal is false."""
    if not any(s + slots <= SLOTS for s in starts):
        return
    found = _solutions(starts, slots, curve, at_least, under=under)
    assert found == _expected(starts, slots, lambda end, t: t >= curve[end], under=under)


@QUICK
@given(curve=CURVES, starts=STARTS, slots=st.integers(1, 3), under=st.booleans())
def test_no_later_than_the_curve(curve: Curve, starts: set[int], slots: int, under: bool) -> None:
    """The same for a latest start."""
    if not any(s + slots <= SLOTS for s in starts):
        return
    found = _solutions(starts, slots, curve, at_most, under=under)
    assert found == _expected(starts, slots, lambda end, t: t <= curve[end], under=under)


@QUICK
@given(curve=CURVES, low=st.integers(0, SLOTS), high=st.integers(0, SLOTS))
def test_pieces_follow_each_other_and_give_the_curve_back(curve: Curve, low: int, high: int) -> None:
    """No index is in two pieces or in none."""
    found = pieces(curve, low, high)
    values = {i: (i + p.offset if p.rising else p.level) for p in found for i in range(p.first, p.last + 1)}
    assert values == {i: curve[i] for i in range(low, high + 1)}
    assert sum(p.last - p.first + 1 for p in found) == len(values)


def test_a_night_is_two_pieces() -> None:
    """A wait of three slots that ends in the night ends in the morning, whenever it began."""
    assert pieces((3, 4, 5, 6, 6, 6, 6, 7), 0, 7) == [
        Piece(0, 3, rising=True, offset=3, level=3),
        Piece(4, 6, rising=False, offset=2, level=6),
        Piece(7, 7, rising=False, offset=0, level=7),
    ]
