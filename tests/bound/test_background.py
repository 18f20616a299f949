"""The bound on the other core: it comes, it ends with the search, and a fault in it is told."""

import time
from dataclasses import replace

import pytest
from random_shop import random_shop

from scheduler.activities.build import build_network
from scheduler.activities.network import Network
from scheduler.bound.background import BoundProcess
from scheduler.bound.bounds import memory_of, tightened


@pytest.fixture(scope="module")
def net() -> Network:
    """A shop whose orders are due twelve days sooner than they were."""
    found = build_network(random_shop(4, 3)).network
    return replace(found, dues=tuple(replace(d, late=tuple(days + 12 for days in d.late)) for d in found.dues))


def _wait(process: BoundProcess, until: int) -> None:
    began = time.monotonic()
    while process.bound < until and process.working() and time.monotonic() - began < 60:
        time.sleep(0.05)


def test_it_is_the_bound_of_the_same_rounds_here_or_better(net: Network) -> None:
    """What another process works out is what this one does, and above nothing."""
    here = tightened(net, None, 1)
    with BoundProcess(net, None) as process:
        _wait(process, here)
    assert process.bound >= here > 0


def test_it_ends_when_it_is_told_to(net: Network) -> None:
    """At any moment, also before it has begun."""
    process = BoundProcess(net, None)
    process.end()
    assert not process.working()


def test_a_fault_in_it_is_told() -> None:
    """Something that is no network."""
    process = BoundProcess("no network", None)  # type: ignore[arg-type]
    _wait(process, 1)
    with pytest.warns(RuntimeWarning, match="the bound stopped early"):
        process.end()


def test_a_bound_that_does_not_fit_into_memory_is_left_out(net: Network, monkeypatch: pytest.MonkeyPatch) -> None:
    """With less room than the chains take there is no bound from them, and no fault."""
    assert memory_of(net) > 1000
    monkeypatch.setattr("scheduler.bound.bounds.MOST_BYTES", 1000)
    assert tightened(net, None, 3) == 0
