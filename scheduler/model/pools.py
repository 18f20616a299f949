"""Shared capacities, for the rules that are one."""

import itertools

from ortools.sat.python import cp_model

from scheduler.activities.network import Demand
from scheduler.model.variables import Variables


def add_pools(v: Variables, rule: str) -> None:
    """Add every pool of a rule but the warmers, whose intervals begin when they are loaded."""
    for p, pool in enumerate(v.net.pools):
        if pool.rule != rule or p == v.net.warmer:
            continue
        uses = [(i, d) for i, a in enumerate(v.net.activities) for d in a.demands if d.pool == p]
        intervals = [_interval(v, i, d) for i, d in uses]
        add_capacity(v, p, intervals, [d.amount for _, d in uses])


def _interval(v: Variables, i: int, demand: Demand) -> cp_model.IntervalVar:
    if not demand.tail:
        return v.interval[i]
    return v.model.new_fixed_size_interval_var(
        v.start[i], v.net.activities[i].slots + demand.tail, f"{v.net.activities[i].key} +"
    )


def add_capacity(v: Variables, pool: int, intervals: list[cp_model.IntervalVar], amounts: list[int]) -> None:
    """Add one cumulative; what is taken already is a fixed interval, at most the whole capacity at a time."""
    row = v.net.pools[pool]
    if not intervals:
        return
    fixed = [
        (v.model.new_fixed_size_interval_var(a, b - a, f"{row.key} taken"), n) for a, b, n in levels(row.taken, row.capacity)
    ]
    v.model.add_cumulative([*intervals, *(f for f, _ in fixed)], [*amounts, *(n for _, n in fixed)], row.capacity)


def levels(taken: tuple[tuple[int, int, int], ...], capacity: int) -> list[tuple[int, int, int]]:
    """Sum overlapping fixed uses into stretches that follow each other, none above the capacity."""
    edges = sorted({t for a, b, _ in taken for t in (a, b)})
    rows = [(a, b, sum(n for x, y, n in taken if x <= a < y)) for a, b in itertools.pairwise(edges)]
    return [(a, b, min(n, capacity)) for a, b, n in rows if n > 0]


def add_presence(v: Variables, rule: str) -> None:
    """Add the pools in which a unit counts from its pick-up to its hand-over."""
    for p, pool in enumerate(v.net.pools):
        if pool.rule != rule:
            continue
        intervals = []
        for path in v.net.paths:
            if p in path.present:
                begin = 0 if path.since_start else v.start[path.first]
                size = v.model.new_int_var(0, v.net.slots, f"{path.unit} on site")
                intervals.append(v.model.new_interval_var(begin, size, v.end(path.last), f"{path.unit} in {pool.key}"))
        add_capacity(v, p, intervals, [1] * len(intervals))
