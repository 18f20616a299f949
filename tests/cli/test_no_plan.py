"""A search that ends without a schedule, in words."""

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.no_plan import no_schedule
from scheduler.schedule.schedule import Status
from scheduler.search.outcome import Bounds, Clash, Outcome


def _unknown(clash: Clash | None) -> Outcome:
    return Outcome(Status.UNKNOWN, None, None, Bounds(0, 0, ()), "insertion", None, 2.0, clash=clash)


def test_what_was_in_the_way_is_said_where_it_is_known() -> None:
    """A search that was not long enough asks for time; one that ran short of stock says what was lacking as well."""
    plain, starved = no_schedule(_unknown(None)), no_schedule(_unknown(Clash((), ("cartridge_stock",), "U1/coat-1 lacks 9 mL")))
    assert plain.says.startswith("No schedule was found in 2 s, and none was ruled out. Give it more time")
    assert "none was ruled out: U1/coat-1 lacks 9 mL. Give it more time" in starved.says
    assert plain.code is starved.code is ExitCode.NO_SCHEDULE
