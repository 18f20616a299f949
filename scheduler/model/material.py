"""Second goal: packs opened, if the films of one product share their packs through a day."""

import math

from ortools.sat.python import cp_model

from scheduler.activities.masks import bits
from scheduler.model.variables import Linear, Literal, Variables

SCALE = 10
"""Millilitres are counted in tenths, needs rounded up; the exact sum is recomputed outside."""


def packs_opened(v: Variables) -> Linear:
    """Packs opened over all days and products."""
    total: list[Linear] = []
    for product, usable_ml in v.net.usable_ml.items():
        films = [i for i, a in enumerate(v.net.activities) if a.product == product]
        by_day: dict[int, list[Linear]] = {}
        for i in films:
            for day, literal in _days(v, i).items():
                by_day.setdefault(day, []).append(literal * math.ceil(v.net.activities[i].volume_ml * SCALE - 1e-6))
        for day, terms in by_day.items():
            packs = v.model.new_int_var(0, sum(v.net.activities[i].packs for i in films), f"{product} on day {day}")
            v.model.add(packs * math.floor(usable_ml * SCALE + 1e-6) >= cp_model.LinearExpr.sum(terms))
            total.append(packs)
    return cp_model.LinearExpr.sum(total)


def _days(v: Variables, i: int) -> dict[int, Literal]:
    masks: dict[int, int] = {}
    for start in bits(v.union(i)):
        day = v.net.day[start]
        masks[day] = masks.get(day, 0) | 1 << start
    literals = {day: v.start_in(i, mask) for day, mask in masks.items()}
    if literals:
        v.model.add_exactly_one(literals.values())
    return literals
