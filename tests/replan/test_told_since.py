"""Which recorded events make a saved room stale: those that change the shop as it stood when the plan was made, no others."""

from datetime import datetime, timedelta
from functools import cache
from pathlib import Path

import pytest

from scheduler.pipeline import Plan, plan
from scheduler.record.correcting import correction
from scheduler.record.desk import Desk
from scheduler.record.event_of_report import event_of
from scheduler.record.events import ADAPTER, AnyEvent, sealed
from scheduler.record.lock import EVENTS_FILE
from scheduler.record.report import Report
from scheduler.record.shop_now import shop_now
from scheduler.replan.told_since import ToldSince, told_since
from scheduler.search.settings import Settings
from tests.random_shop import random_shop


@cache
def _made() -> Plan:
    return plan(random_shop(1, 3), Settings(moves=3, workers=1))


def _desk(at: datetime) -> Desk:
    return Desk(_made().shop, _made().schedule, (), at)


def _written(events: tuple[AnyEvent, ...], folder: Path, tail: bytes = b"") -> ToldSince:
    (folder / EVENTS_FILE).write_bytes(b"".join(ADAPTER.dump_json(event) + b"\n" for event in events) + tail)
    return told_since(folder, _made().schedule.plan_from)


def _reports(desk: Desk) -> dict[str, Report]:
    shop, first = desk.shop, min(desk.schedule.work, key=lambda work: work.start)
    later = f"{desk.now + timedelta(hours=30):%Y-%m-%dT%H:%M}"
    return {
        "started": Report("started", f"{first.unit_id}/{first.name}"),
        "reading": Report("reading", shop.units[0].unit_id, {"steel": "12"}),
        "used": Report("used", f"{shop.lots[0].lot_id}#001", {"ml": "20", "left": "recapped"}),
        "rejected": Report("rejected", shop.lots[-1].lot_id),
        "forecast": Report("forecast", "", {"from": f"{desk.now:%Y-%m-%dT%H:%M}", "until": later, "rain": "2"}),
        "away": Report("away", shop.crew[0].person_id, {"until": later}),
        "down": Report("down", shop.bays[0].bay_id, {"until": later}),
        "arrived": Report("arrived", shop.units[-1].unit_id),
    }


@pytest.mark.parametrize("what", sorted(_reports(_desk(_made().schedule.plan_from))))
@pytest.mark.parametrize("after_h", [-2, 30])
def test_an_event_counts_if_and_only_if_it_may_change_the_shop_of_the_plan(what: str, after_h: int, tmp_path: Path) -> None:
    """What does not count leaves the shop as it was when the plan was made; an announcement counts and changes it."""
    desk = _desk(_made().schedule.plan_from + timedelta(hours=after_h))
    event = sealed(event_of(desk, _reports(desk)[what]))
    counts = bool(_written((event,), tmp_path).counts)
    begin = desk.schedule.plan_from
    changes = shop_now(desk.shop, desk.schedule, (event,), begin) != shop_now(desk.shop, desk.schedule, (), begin)
    assert counts >= changes
    assert counts == (after_h < 0 or what in {"away", "down", "arrived"})


def test_a_correction_counts_where_what_it_corrects_did(tmp_path: Path) -> None:
    """An absence that was withdrawn makes the room stale again; a start that was withdrawn never did."""
    desk = _desk(_made().schedule.plan_from + timedelta(hours=30))
    for what, counts in (("away", 2), ("started", 0)):
        told = desk.with_event(sealed(event_of(desk, _reports(desk)[what])))
        gone = told.with_event(sealed(correction(told, told.events[0].id, None, {}, withdraw=True)))
        assert len(_written(gone.events, tmp_path).counts) == counts


def test_what_a_room_does_not_reckon_with_is_said_and_until_when_was_reported(tmp_path: Path) -> None:
    """A rejected lot waits for the next plan; an absence to come is no news of today; a torn line was never recorded."""
    begin = _made().schedule.plan_from
    early, late = _desk(begin + timedelta(hours=20)), _desk(begin + timedelta(hours=40))
    events = tuple(sealed(event_of(desk, _reports(desk)[what])) for desk, what in ((early, "rejected"), (late, "away")))
    told = _written(events, tmp_path, b'{"kind": "fai')
    assert told.upsets == ("a lot that was rejected",)
    assert told.until == early.now
    assert len(told.counts) == 1
    assert told_since(tmp_path / "nowhere", begin) == ToldSince()


def test_a_damaged_line_makes_the_room_stale(tmp_path: Path) -> None:
    """It cannot be said what it held."""
    assert len(_written((), tmp_path, b"{}\n[1]\nno\n").counts) == 3
