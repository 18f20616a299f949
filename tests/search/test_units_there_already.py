"""Units that are on the site when the plan begins: nobody can take that back, and nobody else is put where they are."""

from datetime import timedelta

from tiny_shop import MONDAY, ORDER, tiny_shop

from scheduler.activities.build import build_network
from scheduler.activities.network import Network
from scheduler.search.improve import Improver


def _network(*there: str, spare: int = 1) -> Network:
    """The tiny shop with units that were received before the plan; the town can spare so many at once."""
    start = MONDAY - timedelta(hours=16)
    done = [{"unit_id": u, "step": "receive", "started_at": start, "ended_at": start + timedelta(minutes=30)} for u in there]
    return build_network(tiny_shop(done=done, orders=[{**ORDER, "most_units_away": spare}])).network


def test_a_unit_that_is_there_comes_first_and_the_next_is_picked_up_when_it_has_gone() -> None:
    """One unit may be away, and U1 is: U2 waits for its dispatch."""
    net = _network("U1")
    better = Improver(net, 1).first()
    assert better is not None
    one, two = net.paths
    assert better.placed.start[one.last] + net.activities[one.last].slots <= better.placed.start[two.first]


def test_a_unit_that_is_there_finds_no_room_once_another_has_been_picked_up() -> None:
    """U2 is put in first, as if U1 were not there: U1, which was there all the time, then does not fit."""
    net = _network("U1")
    improver = Improver(net, 1)
    one, two = net.paths
    assert improver.inserter.insert(two)
    assert not improver.inserter.insert(one)
    improver.inserter.remove(two)
    assert improver.inserter.insert(one)


def test_more_units_than_allowed_that_are_there_already_are_worked_on_all_the_same() -> None:
    """Both were received although the town can spare one: history is not refused."""
    assert Improver(_network("U1", "U2"), 1).first() is not None
