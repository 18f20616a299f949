"""Named workers: who does what, one thing at a time."""

from scheduler.activities.network import Activity
from scheduler.model.shift_hours import gaps
from scheduler.model.variables import Literal, Variables


def assign(v: Variables, *, people: bool) -> None:
    """Give each need of people (or of lifts) named workers, each free for the whole step and in one place at a time."""
    for i, activity in enumerate(v.net.activities):
        _needs(v, i, activity, people=people)
    for w, worker in enumerate(v.net.workers):
        if worker.is_person == people:
            _one_thing_at_a_time(v, w)


def _needs(v: Variables, i: int, activity: Activity, *, people: bool) -> None:
    for skill, count in activity.crew:
        able = [w for w, worker in enumerate(v.net.workers) if skill in worker.skills and worker.is_person == people]
        if not able:
            if any(skill in worker.skills for worker in v.net.workers):
                continue
            v.impossible.append(activity.key)
            continue
        for w in able:
            v.by_skill[i, skill, w] = v.model.new_bool_var(f"{v.net.workers[w].key} as {skill} on {activity.key}")
        v.model.add(sum(v.by_skill[i, skill, w] for w in able) == count)
    for w, worker in enumerate(v.net.workers):
        mine = [v.by_skill[i, skill, w] for skill, _ in activity.crew if (i, skill, w) in v.by_skill]
        if worker.is_person == people and mine:
            v.model.add_at_most_one(mine)
            v.assigned[i, w] = mine[0] if len(mine) == 1 else _any(v, mine)


def _any(v: Variables, literals: list[Literal]) -> Literal:
    one = v.model.new_bool_var("")
    v.model.add(sum(literals) == one)
    return one


def _one_thing_at_a_time(v: Variables, w: int) -> None:
    worker = v.net.workers[w]
    mine = [i for i in range(len(v.net.activities)) if (i, w) in v.assigned]
    if not mine:
        return
    work = [
        v.model.new_optional_fixed_size_interval_var(
            v.start[i], v.net.activities[i].slots, v.assigned[i, w], f"{worker.key} on {v.net.activities[i].key}"
        )
        for i in mine
    ]
    away = [v.model.new_fixed_size_interval_var(a, b - a, f"{worker.key} away") for a, b in gaps(worker.free, v.net.slots)]
    v.model.add_no_overlap([*work, *away])
