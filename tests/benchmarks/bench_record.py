"""What recording costs: eight days of a plan as planned, made and booked, and the same as a file of reports.

python -m tests.benchmarks.bench_record            # 40, 120 and 400 units, processor time

Each event is looked at beside those of its own unit: the time goes with their number, not with its square.
"""

import argparse
import tempfile
import time
from pathlib import Path

from scheduler.record.as_planned import as_planned
from scheduler.record.book import Making, book
from scheduler.record.desk import Desk
from scheduler.record.event_of_report import event_of
from scheduler.record.events import AnyEvent, Finished
from scheduler.record.report import Report
from tests.benchmarks.bench_replan import FAMILIES
from tests.benchmarks.families import family
from tests.benchmarks.mishaps import moment_of, told

MOVES = 100
"""Of the search for the plan, which is not measured."""


def measured(size: str) -> str:
    """One line: events, and seconds of processor time to make them, to book them, and to read and book them as reports."""
    made = told(family(FAMILIES[size]).shop(1), 1, MOVES)
    now, began = moment_of(made), time.process_time()
    events = as_planned(Desk(made.shop, made.schedule, (), now), now)
    made_s = time.process_time() - began
    booked_s = _booked(made.shop, made.schedule, now, [_as_made(event) for event in events])
    told_s = _booked(made.shop, made.schedule, now, [_told(event) for event in events])
    return f"{size}: {len(events)} events, made in {made_s:.2f} s, booked in {booked_s:.2f} s, as reports in {told_s:.2f} s"


def _booked(shop: object, schedule: object, now: object, reports: list[Making]) -> float:
    began = time.process_time()
    with tempfile.TemporaryDirectory() as folder:
        done = book(Path(folder), shop, schedule, now, reports)  # type: ignore[arg-type]
    assert done.written
    return time.process_time() - began


def _as_made(event: AnyEvent) -> Making:
    return lambda _desk: event


def _told(event: AnyEvent) -> Making:
    said = {"at": event.happened_at.isoformat()}
    if isinstance(event, Finished) and event.started_at is not None:
        said["from"] = event.started_at.isoformat()
    return lambda desk: event_of(desk, Report(event.kind, f"{event.unit_id}/{event.step}", said))  # type: ignore[union-attr]


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sizes", default="M,L,XL")
    for name in parser.parse_args().sizes.split(","):
        print(measured(name), flush=True)
