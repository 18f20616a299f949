"""Rule spray_attendant: nobody sprays alone."""

from scheduler.model.variables import Variables


def spray_attendant(v: Variables) -> None:
    """At least two people on every step that sprays warmed cartridges; where nobody is named, the needed heads count."""
    for i, activity in enumerate(v.net.activities):
        if activity.load is None:
            continue
        people = [x for (j, w), x in v.assigned.items() if j == i and v.net.workers[w].is_person]
        if people:
            v.model.add(sum(people) >= 2)
        elif sum(count for _, count in activity.crew) < 2:
            v.impossible.append(activity.key)
