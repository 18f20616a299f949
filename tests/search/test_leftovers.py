"""Coats that are put off until a leftover is warm again."""

from random import Random

from scheduler.activities.build import build_network
from scheduler.search.improve import Improver
from scheduler.search.leftovers import Leftovers
from tests.benchmarks.families import family


def test_a_coat_is_put_off_to_a_slot_at_which_a_leftover_is_warm() -> None:
    """The slot lies after the coat's start, another coat's cartridge is warm then, and the unit goes in no earlier."""
    net = build_network(family("S-many-loose-indoor-small").shop(1)).network
    improver = Improver(net, seed=1)
    assert improver.first() is not None
    state, found = improver.state, 0
    leftovers = Leftovers(net, state, Random(1))
    for path in net.paths:
        later = leftovers.later_start(path)
        if later is None:
            continue
        i, slot = path.first + later[0], later[1]
        others = [j for j, a in enumerate(net.activities) if a.product == net.activities[i].product and j != i]
        back = net.sheets[net.activities[i].product or ""].back
        assert state.start[i] < slot <= state.start[i] + leftovers.longest
        assert slot in {back[state.start[j] + net.activities[j].slots] for j in others}
        improver.inserter.remove(path)
        assert improver.inserter.insert(path, not_before=later)
        assert state.start[i] >= slot
        found += 1
    assert found > 0
