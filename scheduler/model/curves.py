"""Curves in linear pieces: a later end never makes anything ready earlier, so a few literals at the breaks are enough."""

from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.activities.masks import highest, lowest
from scheduler.activities.network import Curve
from scheduler.model.variables import Linear, Literal, Variables


@dataclass(frozen=True, slots=True)
class Piece:
    """From index ``first`` to ``last`` the curve is ``index + offset`` (rising) or the constant ``level``."""

    first: int
    last: int
    rising: bool
    offset: int
    level: int


def pieces(curve: Curve, low: int, high: int) -> list[Piece]:
    """Cut a curve into runs that rise by one a slot and runs that are level.

    Parameters
    ----------
    curve : Curve
    low, high : int
        First and last index that matter.
    """
    found: list[Piece] = []
    at = low
    while at <= high:
        stop = at
        rising = at < high and curve[at + 1] == curve[at] + 1
        step = 1 if rising else 0
        while stop < high and curve[stop + 1] == curve[stop] + step:
            stop += 1
        found.append(Piece(at, stop, rising, curve[at] - at, curve[at]))
        at = stop + 1
    return found


def at_least(v: Variables, target: Linear, curve: Curve, i: int, when: list[Literal]) -> None:
    """Add ``target >= curve[end of i]`` under the literals ``when``."""
    slots, runs = v.net.activities[i].slots, _pieces_of(v, curve, i)
    least = min((p.offset if p.rising else p.level - p.last) for p in runs)
    _under(v.model.add(target >= v.end(i) + least), when)
    for piece in runs:
        begun = _known(v.starts_from(i, piece.first - slots))
        if begun is None:
            continue
        if not piece.rising:
            _under(v.model.add(target >= piece.level), [*when, *begun])
        elif piece.offset > least:
            passed = _not(_known(v.starts_from(i, piece.last + 1 - slots)))
            if passed is not None:
                _under(v.model.add(target >= v.end(i) + piece.offset), [*when, *begun, *passed])


def at_most(v: Variables, target: Linear, curve: Curve, i: int, when: list[Literal]) -> None:
    """Add ``target <= curve[end of i]`` under the literals ``when``."""
    slots, runs = v.net.activities[i].slots, _pieces_of(v, curve, i)
    most = max((p.offset if p.rising else p.level - p.first) for p in runs)
    _under(v.model.add(target <= v.end(i) + most), when)
    for piece in runs:
        passed = _not(_known(v.starts_from(i, piece.last + 1 - slots)))
        if passed is None:
            continue
        if not piece.rising:
            _under(v.model.add(target <= piece.level), [*when, *passed])
        elif piece.offset < most:
            begun = _known(v.starts_from(i, piece.first - slots))
            if begun is not None:
                _under(v.model.add(target <= v.end(i) + piece.offset), [*when, *begun, *passed])


def _pieces_of(v: Variables, curve: Curve, i: int) -> list[Piece]:
    union, slots = v.union(i) or 1, v.net.activities[i].slots
    return pieces(curve, lowest(union) + slots, highest(union) + slots)


def _not(known: list[Literal] | None) -> list[Literal] | None:
    """Turn over what :func:`_known` gave."""
    if known is None:
        return []
    return [known[0].negated()] if known else None  # type: ignore[list-item]


def _known(literal: Literal | bool) -> list[Literal] | None:
    """No literal for what is always true, None for what is never true."""
    if isinstance(literal, bool):
        return [] if literal else None
    return [literal]


def _under(constraint: cp_model.Constraint, when: list[Literal]) -> None:
    if when:
        constraint.only_enforce_if(when)
