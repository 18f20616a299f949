"""A plan in one screen, and the same for a machine."""

import os
from pathlib import Path

from scheduler.cli.dates import COLUMNS
from scheduler.cli.planning import Run
from scheduler.cli.text_table import text_table
from scheduler.documents.state.delivery_dates import DateRow, date_json, date_rows
from scheduler.documents.state.plan_state import STATUS_WORDS, goals_table, headline
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.schedule import Provenance, Schedule


def summary_text(run: Run) -> str:
    """Where the plan stands, its goals and dates, and last where the results lie."""
    plan = run.plan
    schedule, words = plan.schedule, WorkWords(plan.shop, plan.schedule)
    goals = goals_table(schedule)
    lines = [
        plan.shop.site.name,
        *(line for line in headline(words, plan.report) if line not in STATUS_WORDS.values()),
        _quality(schedule),
        _timing(schedule.provenance),
        "",
        text_table(goals.columns, goals.rows),
        "",
        text_table(COLUMNS, [_cells(row) for row in date_rows(schedule)]),
        "",
        *_results(run),
    ]
    return "\n".join(lines)


def summary_data(run: Run) -> dict[str, object]:
    """Everything in the summary, and every file written."""
    schedule = run.plan.schedule
    provenance = schedule.provenance
    until = schedule.forecast_until
    return {
        **provenance.model_dump(mode="json", exclude={"progress"}),
        "objective": schedule.goals[0].value,
        "bound": schedule.goals[0].bound,
        "goals": [goal.model_dump(mode="json") for goal in schedule.goals],
        "forecast_until": until.isoformat(timespec="minutes") if until else None,
        "steps_on_typical_weather": sum(work.typical_weather for work in schedule.work),
        "dates": date_json(schedule),
        "report": str(run.report),
        "files": [str(path) for path in run.files],
    }


def _quality(schedule: Schedule) -> str:
    """Tell the first goal from those after it: the status speaks of the first alone."""
    (first, *others), made = schedule.goals, schedule.provenance
    bound = "no bound known" if first.bound is None else f"bound {first.bound:g}, gap {made.gap:.1%}"
    proven = sum(goal.proven for goal in others)
    objective = f"objective {first.value:g} {first.unit} of {first.name}"
    quality = f"Status {made.status.value}: {objective}, {bound}"
    return f"{quality}; of the {len(others)} goals after it {proven or 'none'} proven best."


def _timing(made: Provenance) -> str:
    first = "" if made.first_schedule_s is None else f"First schedule after {made.first_schedule_s:.2f} s, "
    searched = f"search {made.search_s:.1f} s" if first else f"Search {made.search_s:.1f} s"
    workers = "1 worker" if made.workers == 1 else f"{made.workers} workers"
    return f"{first}{searched}; seed {made.seed}, {workers}, {made.solver}, found by {made.found_by}."


def _cells(row: DateRow) -> tuple[str, ...]:
    rests_on = "typical year" if row.typical_weather else "forecast"
    return row.order_id, row.customer, row.due, row.delivered, row.standing, rests_on


def _results(run: Run) -> list[str]:
    """Paths of what people open; the sheets of each day are counted, not listed."""
    here = _near(run.report)
    days = sum(path.name.startswith("day-") and path.suffix == ".html" for path in run.files)
    rows = (
        ("index.html", "everything in one page"),
        ("schedule.json", "the schedule as data"),
        ("plan.xlsx", "the plan as a workbook"),
        ("dates.csv", "delivery dates"),
        ("day-*.html, day-*.csv", "sheets for the foreman"),
        ("pick-*.html, pick-*.csv", "lists for the store"),
        ("calendar", "calendars of people and orders"),
    )
    paths = [(", ".join(str(here / name) for name in names.split(", ")), what) for names, what in rows]
    widest = max(len(path) for path, _ in paths)
    return [f"Report of {days} days of work:", *(f"  {path.ljust(widest)}  {what}" for path, what in paths)]


def _near(path: Path) -> Path:
    """Shortest way to a path from here."""
    full, near = path.resolve(), Path(os.path.relpath(path.resolve()))
    return full if ".." in near.parts else near
