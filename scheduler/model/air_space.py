"""Rule air_space: no sparks or dust while solvent or a wet film shares the air."""

from scheduler.activities.masks import highest, lowest
from scheduler.model.curves import at_least
from scheduler.model.variables import Linear, Literal, Variables


def air_space(v: Variables) -> None:
    """Keep every dusty step apart from every vapour in bays that share their air; a unit's own steps are in order anyhow."""
    spaces = sorted({c.air_space for c in v.net.classes if c.air_space})
    clears = {i: _clear(v, i) for i, a in enumerate(v.net.activities) if a.emits_vapour}
    for space in spaces:
        dusty = _inside(v, space, [i for i, a in enumerate(v.net.activities) if a.emits_dust])
        for j, vapour_here in _inside(v, space, list(clears)):
            for i, dust_here in dusty:
                if v.net.activities[i].unit != v.net.activities[j].unit:
                    _apart(v, i, j, clears[j], [*dust_here, *vapour_here])


def _inside(v: Variables, space: str, activities: list[int]) -> list[tuple[int, list[Literal]]]:
    """Activities that may be in an air space, with the literal that says so."""
    found = []
    for i in activities:
        k = v.net.activities[i].stay
        classes = [c for c in v.net.stays[k].classes if v.net.classes[c].air_space == space] if k >= 0 else []
        if len(classes) == 1:
            found.append((i, [v.in_class[k, classes[0]]]))
        elif classes:
            found.append((i, [v.in_any(k, tuple(classes))]))
    return found


def _clear(v: Variables, j: int) -> Linear:
    activity = v.net.activities[j]
    clear = v.model.new_int_var(0, v.net.slots, f"{activity.key} clears")
    v.model.add(clear >= v.end(j))
    for c, curve in activity.clears.items():
        at_least(v, clear, tuple(min(x, v.net.slots) for x in curve), j, v.where(j, c))
    return clear


def _apart(v: Variables, dust: int, vapour: int, clear: Linear, here: list[Literal]) -> None:
    first, second = v.union(dust), v.union(vapour)
    if not first or not second or highest(first) + v.net.activities[dust].slots <= lowest(second):
        return
    before = v.model.new_bool_var("")
    v.model.add(v.end(dust) <= v.start[vapour]).only_enforce_if([before, *here])
    v.model.add(clear <= v.start[dust]).only_enforce_if([~before, *here])
