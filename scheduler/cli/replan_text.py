"""The choices of a re-plan on one screen, and the same for a machine."""

from collections.abc import Iterator

from scheduler.cli.replanning import ReplanRun
from scheduler.cli.text_table import text_table
from scheduler.documents.changes.change_words import change_data, change_sentence, change_tables
from scheduler.documents.words.local_time import LocalTime
from scheduler.documents.words.table import Table
from scheduler.replan.frontier import thinned
from scheduler.replan.obstacle_words import obstacle_text
from scheduler.replan.writing import SAYS, Choice

MOST = 10
COLUMNS = ("choice", "days late, weighted", "packs", "overtime and hire", "units move", "orders move", "people", "search")


def choices_text(run: ReplanRun) -> str:
    """What is broken, the choices side by side, what moves in each."""
    time = LocalTime(run.shop.site.tz)
    lines = [
        f"{run.shop.site.name}: from {time.text(run.shop.site.plan_from)} on, against the plan of "
        f"{time.text(run.earlier.provenance.made_at)}.",
        *_broken(run),
        "",
        text_table(COLUMNS, [_row(choice) for choice in run.replan.choices]),
    ]
    lines += _frontier(run)
    for choice in run.replan.choices:
        lines += ["", f"{SAYS[choice.name]}", change_sentence(choice.changes, time)]
        for table in change_tables(choice.changes, time):
            lines += ["", *_table(table)]
    return "\n".join([*lines, "", _written(run)])


def _broken(run: ReplanRun) -> Iterator[str]:
    for row in run.replan.shop.rework[len(run.shop.rework) :]:
        yield f"{row.unit_id} has to be prepared again ({row.kind.value} after {row.after}): {row.reason}."
    rows = [(unit, _why(run, unit)) for unit in run.replan.broken]
    if not rows:
        yield "Everything can stay where people were told."
        return
    yield f"{len(rows)} unit{'s' if len(rows) > 1 else ''} cannot stay where people were told:"
    yield from (f"  {unit}: {why}" for unit, why in rows[:MOST])
    if len(rows) > MOST:
        yield f"  and {len(rows) - MOST} more; --json lists them all"
    if run.replan.unfrozen:
        yield f"Inside the frozen period and not to be held: {', '.join(run.replan.unfrozen)}"


def _why(run: ReplanRun, unit: str) -> str:
    found = run.replan.broken[unit]
    return found if isinstance(found, str) else obstacle_text(run.replan.built, found)


def _row(choice: Choice) -> tuple[str, ...]:
    goals = {goal.name: goal.value for goal in choice.plan.schedule.goals}
    return (
        choice.name,
        f"{goals['lateness']:g}",
        f"{goals['material']:g}",
        f"{goals['cost']:.2f}",
        str(len(choice.changes.units)),
        str(len(choice.changes.dates)),
        str(len(choice.changes.people)),
        f"{choice.search_s:.2f} s",
    )


def _frontier(run: ReplanRun) -> Iterator[str]:
    """What fewer days late cost in units that move."""
    if len(run.replan.frontier) > 1:
        points = thinned(run.replan.frontier, MOST)
        yield ""
        yield "What fewer moves cost, found on the way; --price leads few changes to any of these, a low one to the last:"
        yield f"  units that move:      {'  '.join(f'{moved:5d}' for moved, _ in points)}"
        yield f"  days late, weighted:  {'  '.join(f'{late:5d}' for _, late in points)}"


def _table(table: Table) -> Iterator[str]:
    yield f"{table.caption}:"
    yield text_table(table.columns, table.rows[:MOST])
    if len(table.rows) > MOST:
        yield f"and {len(table.rows) - MOST} more; --json lists them all"


def _written(run: ReplanRun) -> str:
    if run.report is None:
        return "Nothing was written; take one with --take repair, few or best."
    return f"Written: {run.taken.name if run.taken else ''}, in {run.report}."


def choices_data(run: ReplanRun) -> dict[str, object]:
    """Everything for a machine."""
    time = LocalTime(run.shop.site.tz)
    return {
        "site": run.shop.site.name,
        "now": time.iso(run.shop.site.plan_from),
        "told_at": time.iso(run.earlier.provenance.made_at),
        "broken": {unit: _why(run, unit) for unit in run.replan.broken},
        "not_held": list(run.replan.unfrozen),
        "choices": [
            {
                "name": choice.name,
                "goals": [goal.model_dump(mode="json") for goal in choice.plan.schedule.goals],
                "moved_units": list(choice.moved),
                "search_s": round(choice.search_s, 3),
                "changes": change_data(choice.changes, time),
            }
            for choice in run.replan.choices
        ],
        "frontier": [{"units_moved": moved, "weighted_days_late": late} for moved, late in run.replan.frontier],
        "taken": run.taken.name if run.taken else None,
        "report": str(run.report) if run.report else None,
    }
