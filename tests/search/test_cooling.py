"""A run of moves cools down from its warmest to its coldest in every cycle."""

import pytest

from scheduler.search.cooling import COLD, CYCLES, HOT, cycle_at, temperature_at


@pytest.mark.parametrize("settled", [False, True])
def test_every_cycle_begins_hot_and_ends_cold(settled: bool) -> None:
    """No step of a cycle is warmer than the one before; the run ends at its coldest."""
    for number, (begin, end) in enumerate(CYCLES):
        steps = [begin + (end - begin) * share / 20 for share in range(20)]
        assert {cycle_at(over) for over in steps} == {number}
        warmth = [temperature_at(over, settled=settled) for over in steps]
        assert warmth[0] == pytest.approx(HOT[settled])
        assert warmth == sorted(warmth, reverse=True)
    assert temperature_at(1.0, settled=settled) == pytest.approx(COLD)
