"""A saved schedule is read with the shop that it was made from: also after it was planned again, and after capacity was held."""

import pytest

from cli.conftest import Planned, Run
from scheduler.cli.exit_codes import ExitCode
from scheduler.schedule.store import read_schedule


@pytest.fixture
def planned_again(planned: Planned, run: Run) -> Planned:
    """The morning went as planned, and the rest was planned again in its place."""
    ends = sorted(work.end for work in read_schedule(planned.schedule).work)
    now = f"{ends[4]:%Y-%m-%dT%H:%M}"
    assert run("record", planned.report, "as-planned", "--until", now, "--now", now).exit_code == ExitCode.DONE
    args = ("--told", planned.report, "--now", now, "--take", "repair", "--moves", 5)
    assert run("replan", planned.shop, *args).exit_code == ExitCode.DONE
    assert any(work.done for work in read_schedule(planned.schedule).work)
    return planned


def test_a_plan_with_history_passes_the_check_with_the_records_beside_it(planned_again: Planned, run: Run) -> None:
    """Prove that every command that reads it takes it for what it is, and that nobody is told not to use it."""
    result = run("check", planned_again.shop, "--schedule", planned_again.report)
    assert result.exit_code == ExitCode.DONE, result.stdout
    assert result.stderr == ""
    for command in ("day", "material", "feed"):
        result = run(command, planned_again.report)
        assert result.exit_code == ExitCode.DONE, result.stdout
        assert "changed since" not in result.stderr
        assert "Do not use" not in result.stdout


def test_a_plan_with_history_is_refused_where_its_records_are_lost(planned_again: Planned, run: Run) -> None:
    """Prove that the check is not passed by the fingerprint: without the records the history is nowhere."""
    (planned_again.report / "events.jsonl").unlink()
    result = run("check", planned_again.shop, "--schedule", planned_again.report)
    assert result.exit_code == ExitCode.REFUSED
    assert "done_work" in result.stdout
    assert "changed since" in result.stderr


def test_capacity_that_is_held_later_does_not_spoil_the_plan(planned: Planned, run: Run) -> None:
    """Prove that sheets of a plan stay good after a quote has been held: the plan was made before."""
    unit = read_schedule(planned.schedule).work[0].unit_id
    args = ("--told", planned.report, "--nothing-moved", "--hold", "2026-03-20", "--customer", "Town of Ost")
    assert run("quote", planned.shop, f"1x{unit}", *args).exit_code == ExitCode.DONE
    result = run("day", planned.report)
    assert result.exit_code == ExitCode.DONE
    assert "Do not use" not in result.stdout
    assert run("check", planned.shop, "--schedule", planned.report).exit_code == ExitCode.DONE
