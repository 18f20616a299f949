"""People who were told come back to steps that stay, and nobody gets more hours than they may have."""

from dataclasses import replace
from itertools import pairwise

import pytest

from scheduler.activities.build import build_network
from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.replan.same_people import same_people
from scheduler.search.improve import Improver
from tests.random_shop import random_shop


@pytest.mark.parametrize("seed", [3, 4, 5])
def test_nobody_is_over_their_respirator_hours_after_the_exchange(seed: int) -> None:
    """Told: the one who does a unit's next coat of the day does this one too, which together is more than the limit of a day."""
    net = build_network(random_shop(seed, 6, days=40)).network
    first = Improver(net, 1).first()
    assert first is not None
    told = _told(net, first.placed)
    limit = _most_worn(net, first.placed)
    tight = replace(net, workers=tuple(replace(w, respirator_slots=limit if w.is_person else None) for w in net.workers))
    assert told != first.placed
    found = same_people(tight, told, first.placed)
    assert found.start == first.placed.start
    assert _most_worn(tight, found) <= limit


def test_who_was_told_and_is_free_comes_back() -> None:
    """With hours enough everybody whom nothing else holds is back, and the plan is otherwise the same."""
    net = build_network(random_shop(3, 6, days=40)).network
    first = Improver(net, 1).first()
    assert first is not None
    told = _told(net, first.placed)
    found = same_people(net, told, first.placed)
    other = [i for i in range(len(net.activities)) if told.crew[i] != first.placed.crew[i]]
    assert any(found.crew[i] == told.crew[i] for i in other)
    assert (found.start, found.bay_class, found.draws) == (first.placed.start, first.placed.bay_class, first.placed.draws)


def _told(net: Network, placed: Placed) -> Placed:
    crews = list(placed.crew)
    for path in net.paths:
        films = [i for i in range(path.first, path.last + 1) if net.activities[i].respirator]
        for i, j in pairwise(films):
            there = {worker for worker, _ in crews[i]}
            for k, (_, skill) in enumerate(crews[i]):
                able = [w for w, _ in placed.crew[j] if w not in there and skill in net.workers[w].skills]
                if able and net.day[placed.start[i]] == net.day[placed.start[j]]:
                    crews[i] = (*crews[i][:k], (able[0], skill), *crews[i][k + 1 :])
                    break
    return replace(placed, crew=tuple(crews))


def _most_worn(net: Network, placed: Placed) -> int:
    """Most slots that anybody is under a respirator in one day."""
    worn: dict[tuple[int, int], int] = {}
    for i, activity in enumerate(net.activities):
        for worker, _ in placed.crew[i] if activity.respirator else ():
            for slot in range(placed.start[i], placed.start[i] + activity.slots):
                worn[worker, net.day[slot]] = worn.get((worker, net.day[slot]), 0) + 1
    return max(worn.values())
