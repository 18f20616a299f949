"""The choices of a re-plan on one screen, and the same for a machine."""

from collections.abc import Iterator

from scheduler.cli.replanning import ReplanRun
from scheduler.cli.text_table import text_table
from scheduler.documents.changes.change_words import change_data, change_sentence, unit_table
from scheduler.documents.changes.choices_page import WayOn, choices_page, figures_table, orders_table
from scheduler.documents.words.local_time import LocalTime
from scheduler.documents.words.table import Table
from scheduler.replan.frontier import thinned
from scheduler.replan.obstacle_words import obstacle_text
from scheduler.replan.writing import SAYS

MOST = 10


def choices_text(run: ReplanRun) -> str:
    """What is broken, the choices side by side, what moves in each."""
    time, ways = LocalTime(run.shop.site.tz), _ways(run)
    now, told_at = run.shop.site.plan_from, run.earlier.provenance.made_at
    lines = [
        f"{run.shop.site.name}: from {time.text(now)} on, against the plan made on {time.text(told_at)}.",
        *_broken(run),
        "",
        *_whole(figures_table(run.earlier, ways, time)),
        *(f"  {way.says}" for way in ways),
        *_frontier(run),
    ]
    orders = orders_table(run.earlier, ways, time)
    lines += ["", *_whole(orders)] if orders.rows else []
    for way in ways:
        lines += ["", *_moves(way, time)]
    return "\n".join([*lines, "", _written(run)])


def choices_html(run: ReplanRun) -> str:
    """The same as a page, with charts and everything that moves."""
    time = LocalTime(run.shop.site.tz)
    return choices_page(run.shop.site.name, time.text(run.shop.site.plan_from), run.earlier, _ways(run), time)


def _ways(run: ReplanRun) -> list[WayOn]:
    return [WayOn(c.name, SAYS[c.name], c.plan.schedule, c.changes, c.search_s) for c in run.replan.choices]


def _moves(way: WayOn, time: LocalTime) -> Iterator[str]:
    """What moves in a choice: in a sentence, by unit, and for how many days of whom."""
    yield f"{way.name}: {change_sentence(way.changes, time)}"
    units = unit_table(way.changes, time)
    if units.rows:
        yield text_table(units.columns, units.rows[:MOST])
    if len(units.rows) > MOST:
        yield f"and {len(units.rows) - MOST} more; --chart and --json have them all"
    for name, found in (("people", way.changes.people), ("bays", way.changes.bays)):
        if found:
            yield f"days that change, {name}: {', '.join(f'{who} {len(days)}' for who, days in found.items())}"


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


def _frontier(run: ReplanRun) -> Iterator[str]:
    """What fewer days late cost in units that move."""
    if len(run.replan.frontier) > 1:
        points = thinned(run.replan.frontier, MOST)
        yield ""
        yield "What fewer moves cost, found on the way; --price leads few changes to any of these, a low one to the last:"
        yield f"  units that move:      {'  '.join(f'{moved:5d}' for moved, _ in points)}"
        yield f"  days late, weighted:  {'  '.join(f'{late:5d}' for _, late in points)}"


def _whole(table: Table) -> Iterator[str]:
    yield f"{table.caption}:"
    yield text_table(table.columns, table.rows)


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
