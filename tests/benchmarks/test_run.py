"""A run of the benchmarks: plans that can be run, failures that are kept, a chart of what was found."""

import subprocess
from types import SimpleNamespace

import pytest

from tests.benchmarks.chart import figure
from tests.benchmarks.families import families
from tests.benchmarks.methods import METHODS
from tests.benchmarks.one import Measured
from tests.benchmarks.plans import FULL, SHORT
from tests.benchmarks.run import _in_a_process

NAME = "S-few-tight-indoor-small"


def test_plans_name_families_and_methods_that_there_are() -> None:
    """Nothing of a long run turns out to be mistyped in its last hour; every size is in the full plan."""
    for part in (*SHORT, *FULL):
        assert set(part.families) <= set(families())
        assert set(part.methods) <= set(METHODS)
    assert {name.split("-")[0] for part in FULL for name in part.families} == {"S", "M", "L", "XL", "XXL"}


def test_the_short_plan_searches_for_at_most_seven_minutes() -> None:
    """What the processes take to begin, build and check comes on top, and ten minutes are promised."""
    assert sum(limit_s for part in SHORT for _, _, limit_s, method in part.runs() if method != "due date") <= 420


def test_a_process_that_ends_badly_is_a_failure_with_its_last_line(monkeypatch: pytest.MonkeyPatch) -> None:
    """One that crashes and one that does not come back are rows like any other."""
    crashed = SimpleNamespace(returncode=-9, stdout="", stderr="Traceback\nMemoryError: no room\n")
    monkeypatch.setattr(subprocess, "run", lambda *_args, **_more: crashed)
    row = _in_a_process("coatrun", NAME, 1, 1.0)
    assert row.lateness is None
    assert row.failure == "ended with -9: MemoryError: no room"
    assert row.total_weight > 0

    def never(*_args: object, **_more: object) -> None:
        raise subprocess.TimeoutExpired("python", 1)

    monkeypatch.setattr(subprocess, "run", never)
    assert "not back" in str(_in_a_process("coatrun", NAME, 1, 1.0).failure)


def test_the_chart_has_a_line_for_each_method_with_a_schedule() -> None:
    """A line starts when the method has a schedule and falls as it gets better, measured from the best bound of all."""
    ours = Measured("coatrun", NAME, 1, 10.0, 5, lateness=10, bound=0, progress=((0.1, 30), (1.0, 10)))
    theirs = Measured("due date", NAME, 1, 10.0, 5, lateness=20, bound=5, progress=((0.1, 20),))
    failed = Measured("CP-SAT 8", NAME, 1, 10.0, 5, failure="unknown")
    chart = figure([ours, theirs, failed])
    assert [trace.name for trace in chart.data] == ["coatrun", "due date"]
    first = chart.data[0]
    assert (first.y[0], first.y[-1]) == ((30 - 5) / 5, (10 - 5) / 5)
    assert (first.x[0], first.x[-1]) == (0.1, pytest.approx(10.0))
