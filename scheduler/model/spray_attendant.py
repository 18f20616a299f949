"""Rule spray_attendant: nobody sprays alone."""

from scheduler.model.variables import Variables


def spray_attendant(v: Variables) -> None:
    """At least two people on every step that sprays warmed cartridges."""
    for i, activity in enumerate(v.net.activities):
        people = [x for (j, w), x in v.assigned.items() if j == i and v.net.workers[w].is_person]
        if activity.load is not None:
            v.model.add(sum(people) >= 2)
