"""Gaps are taken out of stays: a stay begins later and ends when it would have."""

import pytest
from random_shop import random_shop

from scheduler.activities.build import build_network
from scheduler.search import insertion
from scheduler.search.improve import Improver


def test_a_unit_alone_ends_when_it_would_without(monkeypatch: pytest.MonkeyPatch) -> None:
    """Units of three shops, each alone: stays end at the same slot and begin no earlier, some of them later."""
    assert sum(_later(seed, monkeypatch) for seed in (1, 3, 7)) > 0


def _later(seed: int, monkeypatch: pytest.MonkeyPatch) -> int:
    net, later = build_network(random_shop(seed, 5)).network, 0
    tight, loose = Improver(net, 1), Improver(net, 1)
    for path in net.paths:
        assert tight.inserter.insert(path)
        with monkeypatch.context() as patch:
            patch.setattr(insertion, "tighten", lambda _chain, _segment: None)
            assert loose.inserter.insert(path)
        for stay in (net.stays[k] for k in path.stays):
            a, b = tight.state.start, loose.state.start
            assert a[stay.last] == b[stay.last]
            assert a[stay.first] >= b[stay.first]
            later += a[stay.first] > b[stay.first]
        tight.inserter.remove(path)
        loose.inserter.remove(path)
    return later
