"""The room of a saved plan is made anew where something was said, and only then."""

import pytest

from cli.conftest import Planned, Run
from scheduler.cli.fresh_room import room_kept_fresh
from scheduler.replan.saved_room import ROOM_FILE, is_fresh
from scheduler.shop.read import read_shop


def _say(planned: Planned) -> None:
    file = planned.shop / "holds.csv"
    file.write_text(file.read_text(encoding="utf-8") + "\n", encoding="utf-8")


def _say_and_end(planned: Planned, error: BaseException) -> None:
    with room_kept_fresh(planned.shop, planned.schedule):
        _say(planned)
        raise error


def test_a_room_that_was_fresh_is_fresh_again_also_after_a_refusal(planned: Planned) -> None:
    """What was written before an error counts; a room that is not there is not made."""
    with pytest.raises(ValueError, match="refused"):
        _say_and_end(planned, ValueError("refused"))
    assert is_fresh(planned.shop, planned.schedule)
    (planned.report / ROOM_FILE).unlink()
    with room_kept_fresh(planned.shop, planned.schedule):
        _say(planned)
    assert not (planned.report / ROOM_FILE).exists()


def test_nobody_who_stops_a_command_waits_for_a_room(planned: Planned) -> None:
    """It stays stale, and the next quote makes it."""
    with pytest.raises(KeyboardInterrupt):
        _say_and_end(planned, KeyboardInterrupt())
    assert not is_fresh(planned.shop, planned.schedule)


def test_a_shop_in_which_nothing_fits_any_more_is_recorded_all_the_same(planned: Planned, run: Run) -> None:
    """All are away until the end of the plan: the report counts, and that no date can be quoted is said."""
    shop = read_shop(planned.shop)
    until, now = f"{shop.site.plan_until:%Y-%m-%dT%H:%M}", f"{shop.site.plan_from:%Y-%m-%dT%H:%M}"
    said = ""
    for person in shop.crew:
        report = ("away", person.person_id, "--from", now, "--until", until, "--now", now)
        result = run("record", planned.report, "--shop", planned.shop, *report)
        assert result.exit_code == 0
        said += result.stderr
    assert "No dates can be quoted until it is planned again" in said
    assert not is_fresh(planned.shop, planned.schedule)
