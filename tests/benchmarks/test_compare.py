"""The arithmetic of the comparison: failures, pairs, intervals, times; on runs written down by hand."""

import pytest

from tests.benchmarks.compare import near_best_s, pairs, standings, values
from tests.benchmarks.one import Measured
from tests.benchmarks.table import markdown


def ran(method: str, lateness: float | None, seed: int = 1, **more: object) -> Measured:
    """A run on an M shop of weight 10."""
    return Measured(method, "M-few-tight-indoor-large", seed, 20.0, 10, lateness=lateness, **more)  # type: ignore[arg-type]


def test_a_failure_counts_as_the_worst_of_the_others() -> None:
    """A method gains nothing by not answering."""
    runs = {"a": ran("a", 5), "b": ran("b", 9), "c": ran("c", None, failure="unknown")}
    assert values(runs) == {"a": 5, "b": 9, "c": 9}
    assert values({"c": ran("c", None)}) == {}


def test_pairs_compare_shop_by_shop_and_with_the_best_opponent_of_each() -> None:
    """Ours 30 in all against 60 and 50; the best opponent of each shop has 40 in all."""
    rows = [ran("coatrun", 10, 1), ran("due date", 20, 1), ran("CP-SAT 8", 30, 1)]
    rows += [ran("coatrun", 20, 2), ran("due date", 40, 2), ran("CP-SAT 8", 20, 2)]
    found = {pair.opponent: pair for pair in pairs(rows, "M", 20.0)}
    assert (found["due date"].ours, found["due date"].theirs, found["due date"].less_pct) == (30, 60, 50.0)
    assert (found["due date"].better, found["due date"].equal) == (2, 0)
    assert (found["CP-SAT 8"].better, found["CP-SAT 8"].equal) == (1, 1)
    assert (found["best of them"].theirs, found["best of them"].less_pct) == (40, 25.0)
    assert pairs(rows, "L", 20.0) == []


def test_the_interval_holds_the_reduction_and_is_a_point_where_every_shop_agrees() -> None:
    """Each shop halved: no draw of shops gives anything else; one shop has no interval."""
    rows = [row for seed in range(1, 6) for row in (ran("coatrun", seed, seed), ran("due date", 2 * seed, seed))]
    pair = pairs(rows, "M", 20.0)[0]
    assert (pair.low_pct, pair.less_pct, pair.high_pct) == (50.0, 50.0, 50.0)
    assert pairs(rows[:2], "M", 20.0)[0].low_pct is None
    rows[0] = ran("coatrun", 2, 1)
    wide = pairs(rows, "M", 20.0)[0]
    assert wide.low_pct is not None
    assert wide.low_pct < (wide.less_pct or 0) <= (wide.high_pct or 0)


def test_time_to_within_one_per_cent_counts_from_the_best_of_all_methods() -> None:
    """100 is within one per cent of 99.5; a best of nothing has to be met."""
    runs = {"a": ran("a", 99.5, progress=((3.0, 99.5),)), "b": ran("b", 100, progress=((1.0, 130), (2.0, 100)))}
    assert near_best_s(runs["b"], runs) == 2.0
    runs["c"] = ran("c", 0, progress=((9.0, 0),))
    assert near_best_s(runs["b"], runs) is None
    assert near_best_s(runs["c"], runs) == 9.0


def test_standings_measure_from_the_best_bound_of_any_method() -> None:
    """(14 - 4) / 10, also for the method that knows no bound."""
    rows = [ran("coatrun", 14, bound=0, first_s=0.5, peak_mb=80), ran("CP-SAT 8", None, bound=4, peak_mb=300, failure="unknown")]
    ours, theirs = standings(rows)
    assert (ours.above_bound, ours.failures, ours.proven, ours.first_s) == (1.0, 0, 0, 0.5)
    assert (theirs.above_bound, theirs.failures, theirs.lateness, theirs.peak_mb) == (None, 1, 14, 300)


@pytest.mark.parametrize("says", ["unknown", "14", "| M-few-tight-indoor-large | 1 | 20 | 10 | 4 | 14 | failed |"])
def test_the_table_tells_failures_and_conditions(says: str) -> None:
    """Nothing that failed is left out of the text."""
    rows = [ran("coatrun", 14), ran("CP-SAT 8", None, bound=4, failure="unknown")]
    text = markdown(rows, {"cores": 2}, "python -m tests.benchmarks.run --short")
    assert says in text
    assert "cores 2" in text
