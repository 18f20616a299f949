"""Rule respirator_hours: nobody works longer under a respirator in a day than their limit."""

from scheduler.activities.masks import bits
from scheduler.model.variables import Literal, Variables


def respirator_hours(v: Variables) -> None:
    """Count for each person and day the slots of their steps under a respirator.

    The part of a step that falls on a day is a function of its start, so each step has a literal for every group of
    starts with the same split over days, and a person's share is taken where both literals hold.
    """
    worn = [i for i, a in enumerate(v.net.activities) if a.respirator]
    splits = {i: _splits(v, i) for i in worn}
    for w, worker in enumerate(v.net.workers):
        if worker.respirator_slots is None:
            continue
        used: dict[int, list[tuple[Literal, int]]] = {}
        for i in worn:
            if (i, w) in v.assigned:
                for by_day, literal in splits[i]:
                    both = _both(v, v.assigned[i, w], literal)
                    for day, slots in by_day:
                        used.setdefault(day, []).append((both, slots))
        for day, terms in used.items():
            limit = worker.respirator_slots - dict(worker.respirator_used).get(day, 0)
            if sum(slots for _, slots in terms) > limit:
                v.model.add(sum(slots * literal for literal, slots in terms) <= max(0, limit))


def _both(v: Variables, a: Literal, b: Literal) -> Literal:
    both = v.model.new_bool_var("")
    v.model.add_bool_or([~a, ~b, both])
    return both


def _splits(v: Variables, i: int) -> list[tuple[tuple[tuple[int, int], ...], Literal]]:
    slots, union = v.net.activities[i].slots, v.union(i)
    groups: dict[tuple[tuple[int, int], ...], int] = {}
    for start in bits(union):
        days = v.net.day[start : start + slots]
        split = tuple((day, days.count(day)) for day in sorted(set(days)))
        groups[split] = groups.get(split, 0) | 1 << start
    found = []
    for split, mask in groups.items():
        found.append((split, v.start_in(i, mask)))
    if found:
        v.model.add_exactly_one(literal for _, literal in found)
    return found
