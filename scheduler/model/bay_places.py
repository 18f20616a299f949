"""Rule bay_places: a bay never holds more units than it has places, and none while it is shut."""

from ortools.sat.python import cp_model

from scheduler.model.shift_hours import gaps
from scheduler.model.variables import Variables


def bay_places(v: Variables) -> None:
    """One cumulative a class of bays; which bay of the class and which place is handed out afterwards."""
    for c, group in enumerate(v.net.classes):
        inside = [k for k, stay in enumerate(v.net.stays) if c in stay.classes]
        if not inside or not group.bays:
            continue
        intervals = [_optional(v, k, c) for k in inside]
        shut = [v.model.new_fixed_size_interval_var(a, b - a, f"{group.key} shut") for a, b in gaps(group.free, v.net.slots)]
        taken = [(v.model.new_fixed_size_interval_var(a, b - a, f"{group.key} taken"), n) for a, b, n in group.taken]
        v.model.add_cumulative(
            [*intervals, *shut, *(t for t, _ in taken)],
            [1] * len(intervals) + [group.places] * len(shut) + [n for _, n in taken],
            group.places,
        )


def _optional(v: Variables, k: int, c: int) -> cp_model.IntervalVar:
    stay = v.net.stays[k]
    begin = 0 if stay.since_start else v.start[stay.first]
    name = f"{stay.unit} in {v.net.classes[c].key}"
    return v.model.new_optional_interval_var(begin, v.stay_size[k], v.end(stay.last), v.in_class[k, c], name)
