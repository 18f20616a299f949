"""Units that stand where people were told: the quick way says yes exactly where no rule, asked one by one, objects."""

from collections.abc import Callable
from dataclasses import replace
from random import Random

import pytest
from random_shop import random_shop
from search.recount import picture
from tiny_shop import ORDER, tiny_shop
from wild_shop import wild_shop

from scheduler.activities.build import build_network
from scheduler.activities.placed import Placed
from scheduler.activities.reread import reread
from scheduler.pipeline import plan
from scheduler.replan.stand import Stander, in_order_told
from scheduler.search.as_told import AsTold
from scheduler.search.improve import Improver
from scheduler.search.insertion import Inserter
from scheduler.search.settings import Settings
from scheduler.search.state import State
from scheduler.shop.shop import Shop
from tests.replan.test_later import as_told

SHOPS = [(random_shop, 2, 6), (random_shop, 9, 7), (wild_shop, 3, 5), (wild_shop, 15, 6)]


@pytest.mark.parametrize(("make", "seed", "units"), SHOPS, ids=[f"{make.__name__}-{seed}" for make, seed, _ in SHOPS])
def test_a_quick_yes_is_what_the_rules_say_one_by_one(
    make: Callable[[int, int], Shop], seed: int, units: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A solution is blurred fifteen times; both ways leave the same picture, and a no leaves none."""
    improver = Improver(build_network(make(seed, units)).network, seed)
    first = improver.first()
    assert first is not None
    random, answers = Random(seed), set()
    for blur in (*[0.0] * 2, *[0.03] * 13):
        told = _blurred(improver, first.placed, random, blur)
        quick, careful = (Inserter(improver.net, State(improver.net)) for _ in range(2))
        as_told, slow = AsTold(quick, told), Stander(careful, told)
        monkeypatch.setattr(slow.quick, "put", lambda _path: False)
        for path in in_order_told(improver.net.paths, told):
            before = picture(quick.state)
            yes = as_told.put(path)
            assert yes or picture(quick.state) == before
            stands = slow.stand(path) is None
            crew, draws = (row[path.first : path.last + 1] for row in (careful.state.crew, careful.state.draws))
            here = slice(path.first, path.last + 1)
            unchanged = stands and tuple(crew) == told.crew[here] and tuple(draws) == told.draws[here]
            assert yes == unchanged
            answers.add(yes)
            if stands and not unchanged:
                careful.remove(path)
        assert picture(quick.state) == picture(careful.state)
    assert answers == {True, False}


def _blurred(improver: Improver, placed: Placed, random: Random, share: float) -> Placed:
    """Some steps earlier or later, in other bays, with other people, with less stock."""
    net, start, crew, bay_class = improver.net, list(placed.start), list(placed.crew), list(placed.bay_class)
    for i, activity in enumerate(net.activities):
        if random.random() < share:
            start[i] = min(max(start[i] + random.choice((-2, -1, 1, 2)), 0), net.slots - activity.slots)
        if random.random() < share and crew[i]:
            crew[i] = ((random.randrange(len(net.workers)), crew[i][0][1]), *crew[i][1:])
    for k, stay in enumerate(net.stays):
        if random.random() < share:
            bay_class[k] = random.choice(stay.classes)
    return replace(placed, start=tuple(start), crew=tuple(crew), bay_class=tuple(bay_class))


def test_who_was_there_first_does_not_stay_beside_one_who_came_later() -> None:
    """The customer can spare one unit. U1 is on the site; U2 came once U1 was to be gone, and U1 was to be gone sooner."""
    made = plan(tiny_shop(orders=[{**ORDER, "most_units_away": 1}]), Settings(moves=5, workers=1))
    first = min((w for w in made.schedule.work if w.name == "wash"), key=lambda w: w.start)
    built = build_network(as_told(made, first.end))
    told, inserter = reread(built, made.schedule).placed, Inserter(built.network, State(built.network))
    begun, later = sorted(built.network.paths, key=lambda path: not path.since_start)
    assert (begun.unit, begun.since_start, later.since_start) == (first.unit_id, True, False)
    stander = Stander(inserter, told)
    assert stander.stand(begun) is None  # alone it may stand where it was told
    inserter.remove(begun)
    assert inserter.insert(later)  # at once: nobody else is there
    obstacle = stander.stand(begun)
    assert obstacle is not None
    assert obstacle.rule == "units_away"
    assert not inserter.insert(begun)
    assert stander.quick.put(begun) is False
