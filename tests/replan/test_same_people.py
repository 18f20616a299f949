"""People who were told come back to steps that stay, and nobody gets more hours than they may have."""

from dataclasses import replace

from scheduler.activities.build import build_network
from scheduler.replan.same_people import same_people
from scheduler.search.improve import Improver
from tests.random_shop import random_shop


def test_nobody_is_over_their_respirator_hours_after_the_exchange() -> None:
    """Told: every film by the first who can spray; whatever comes back, each person stays within the limit of each day."""
    net = build_network(random_shop(3, 8, days=40)).network
    first = Improver(net, 1).first()
    assert first is not None
    tight = replace(net, workers=tuple(replace(w, respirator_slots=6 if w.is_person else None) for w in net.workers))
    start = Improver(tight, 1).first()
    assert start is not None
    crews = list(start.placed.crew)
    for i, activity in enumerate(tight.activities):
        swapped = []
        for worker, skill in crews[i]:
            able = [w for w, row in enumerate(tight.workers) if skill in row.skills and w not in {x for x, _ in swapped}]
            swapped.append((able[0] if activity.respirator and able else worker, skill))
        crews[i] = tuple(swapped)
    told = replace(start.placed, crew=tuple(crews))
    found = same_people(tight, told, start.placed)
    assert found.start == start.placed.start
    worn: dict[tuple[int, int], int] = {}
    for i, activity in enumerate(tight.activities):
        for worker, _ in found.crew[i] if activity.respirator else ():
            for slot in range(found.start[i], found.start[i] + activity.slots):
                worn[worker, tight.day[slot]] = worn.get((worker, tight.day[slot]), 0) + 1
    assert any(found.crew[i] != start.placed.crew[i] for i in range(len(tight.activities)))
    assert max(worn.values()) <= 6
