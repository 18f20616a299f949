"""Second goal: packs opened, if the films of one product share their packs through a day."""

import math

from ortools.sat.python import cp_model

from scheduler.activities.masks import bits
from scheduler.model.variables import Linear, Literal, Variables

SCALE = 1000
"""Millilitres are counted in thousandths, needs rounded down and what packs give up: a bound must not be too high."""


def packs_opened(v: Variables) -> Linear:
    """Packs opened over all days and products, opened packs that are drawn taken off; worked out again outside."""
    total: list[Linear] = []
    for product, usable_ml in v.net.usable_ml.items():
        films = [i for i, a in enumerate(v.net.activities) if a.product == product]
        by_day: dict[int, list[Linear]] = {}
        for i in films:
            for day, literal in _days(v, i).items():
                by_day.setdefault(day, []).extend(_needs(v, i, literal))
        for day, terms in by_day.items():
            packs = v.model.new_int_var(0, sum(v.net.activities[i].packs for i in films), f"{product} on day {day}")
            v.model.add(packs * math.ceil(usable_ml * SCALE - 1e-6) >= cp_model.LinearExpr.sum(terms))
            total.append(packs)
    return cp_model.LinearExpr.sum(total)


def _needs(v: Variables, i: int, today: Literal) -> list[Linear]:
    """Thousandths of a millilitre that a film needs if it is applied on a day, less what opened packs give it."""
    terms: list[Linear] = [today * math.floor(v.net.activities[i].volume_ml * SCALE + 1e-6)]
    for s, source in enumerate(v.net.sources):
        if source.opened_ml and (i, s) in v.draws:
            drawn_today = v.model.new_bool_var("")
            v.model.add_implication(drawn_today, v.draws[i, s])
            v.model.add_implication(drawn_today, today)
            terms.append(drawn_today * -math.ceil(source.opened_ml * SCALE - 1e-6))
    return terms


def _days(v: Variables, i: int) -> dict[int, Literal]:
    masks: dict[int, int] = {}
    for start in bits(v.union(i)):
        day = v.net.day[start]
        masks[day] = masks.get(day, 0) | 1 << start
    literals = {day: v.start_in(i, mask) for day, mask in masks.items()}
    if literals:
        v.model.add_exactly_one(literals.values())
    return literals
