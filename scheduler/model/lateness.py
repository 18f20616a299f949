"""First goal: weighted days late."""

from ortools.sat.python import cp_model

from scheduler.activities.masks import highest
from scheduler.activities.network import Due
from scheduler.model.variables import Linear, Variables


def lateness(v: Variables) -> Linear:
    """Weighted days late as a sum of literals, one for each day that an order may be late."""
    return cp_model.LinearExpr.sum([due.weight * part for due in v.net.dues for part in _days(v, due)])


def _days(v: Variables, due: Due) -> list[Linear | int]:
    if due.together:
        settled = max(due.settled, default=0)
        return _steps(v, due, due.members, settled) if due.members else [settled]
    return [part for i in due.members for part in _steps(v, due, (i,), 0)] + [sum(due.settled)]


def _steps(v: Variables, due: Due, members: tuple[int, ...], settled: int) -> list[Linear | int]:
    """Days late of the last of the members: ``settled`` days and each step of the curve above that."""
    last = {i: highest(v.union(i) or 1) + v.net.activities[i].slots for i in members}
    most = max(due.late[end] for end in last.values())
    levels = sorted({days for days in due.late if settled < days <= most})
    total: list[Linear | int] = [settled]
    before, below_it = settled, None
    for level in levels:
        literal = v.model.new_bool_var(f"{due.order} late by {level} d")
        allowed = max((e for e in range(len(due.late)) if due.late[e] <= before), default=-1)
        for i in members:
            if last[i] > allowed:
                v.model.add(v.end(i) <= allowed).only_enforce_if(~literal)
        if below_it is not None:
            v.model.add_implication(literal, below_it)
        total.append((level - before) * literal)
        before, below_it = level, literal
    return total
