"""The state of a plan in one screen: how good it is, what was checked and where it comes from."""

from dataclasses import dataclass
from typing import Final

from scheduler.check.breach import CheckReport
from scheduler.documents.state.delivery_dates import standing
from scheduler.documents.words.goal_words import GOAL_WORDS
from scheduler.documents.words.local_time import LocalTime, long_day_text
from scheduler.documents.words.reading_units import NARROW_SPACE
from scheduler.documents.words.table import Table
from scheduler.documents.words.work_words import WorkWords
from scheduler.rules import RULES
from scheduler.schedule.schedule import GoalValue, Provenance, Schedule, Status

STATUS_WORDS: Final = {
    Status.OPTIMAL: "Proven: no plan can be better in the first goal; the others say how far off they can be at most.",
    Status.FEASIBLE: "Every step has its place, but a better plan may exist; the goals say how far off it can be at most.",
    Status.INFEASIBLE: "No plan can keep all rules with this input.",
    Status.UNKNOWN: "No plan was found in the time given.",
}


def headline(words: WorkWords, report: CheckReport) -> tuple[str, ...]:
    """Sentences that tell a planner where the plan stands."""
    schedule = words.schedule
    late = sum(delivery.days_late > 0 for delivery in schedule.deliveries)
    orders, units = len(schedule.deliveries), len({work.unit_id for work in schedule.work})
    on_time = "all on time" if not late else f"{orders - late} on time, {late} late"
    return (
        f"{_count(orders, 'order')} with {_count(units, 'unit')}: {on_time}.",
        checked(report),
        STATUS_WORDS[schedule.provenance.status],
        *_typical(schedule, words.time),
    )


@dataclass(frozen=True, slots=True)
class Tile:
    """One figure of the first screen: what it is, the figure, what it means."""

    name: str
    figure: str
    says: str


def tiles(schedule: Schedule) -> tuple[Tile, ...]:
    """Figures that a planner looks at first."""
    goals = {goal.name: goal for goal in schedule.goals}
    return (
        *_dates_tiles(schedule),
        *(_goal_tile(GOAL_WORDS[name], goals[name]) for name in ("lateness", "material", "cost") if name in goals),
    )


def _dates_tiles(schedule: Schedule) -> tuple[Tile, ...]:
    orders = schedule.deliveries
    if not orders:
        return ()
    on_time = [order for order in orders if not order.days_late]
    tightest = min(orders, key=lambda order: order.due_at - order.delivered_at)
    late = len(orders) - len(on_time)
    return (
        Tile("Orders on time", f"{len(on_time)} of {len(orders)}", f"{late} late" if late else "none late"),
        Tile("Tightest order", tightest.order_id, standing(tightest)),
    )


def _goal_tile(name: str, goal: GoalValue) -> Tile:
    value = _number(goal.value)
    if goal.proven:
        return Tile(name, value, "proven best")
    return Tile(name, value, "no bound known" if goal.bound is None else f"at least {_number(goal.bound)}")


def checked(report: CheckReport) -> str:
    """What the check found, in one sentence."""
    if report.ok:
        return f"Checked apart from the search: all {len(RULES)} rules hold and every figure is confirmed."
    parts = (_count(len(report.breaches), "breach", "breaches") + " of rules" if report.breaches else "",
             _count(len(report.mismatched_goals), "figure") + " not confirmed" if report.mismatched_goals else "")  # fmt: skip
    return f"Do not use this plan: the check found {' and '.join(part for part in parts if part)}."


def goals_table(schedule: Schedule) -> Table:
    """Goals in the order in which they count, each with its bound and what is left between."""
    rows = tuple((GOAL_WORDS.get(g.name, g.name), *_goal_cells(g)) for g in schedule.goals)
    return Table("Goals in the order in which they count; lower is better", ("goal", "value", "at least", "gap", "status"), rows)


def rules_table(report: CheckReport) -> Table:
    """Rules with what the check says of each."""
    found = {name: [b for b in report.breaches if b.rule == name] for name in RULES}
    rows = tuple((name, rule.says, "; ".join(b.says for b in found[name]) or "holds") for name, rule in RULES.items())
    return Table("Rules that were checked", ("rule", "says", "result"), rows)


def facts(provenance: Provenance, time: LocalTime) -> tuple[tuple[str, str], ...]:
    """Where the plan comes from, as pairs of name and value."""
    pairs = (
        ("Made", f"{long_day_text(time.day(provenance.made_at))}, {time.clock(provenance.made_at)}"),
        ("coatrun", provenance.coatrun_version),
        ("Solver", provenance.solver),
        ("Found by", provenance.found_by),
        ("Status", provenance.status.value),
        ("Gap of the first goal", f"{100 * provenance.gap:.1f}{NARROW_SPACE}%"),
        ("First plan after", _seconds(provenance.first_schedule_s)),
        ("Search took", _seconds(provenance.search_s)),
        ("Seed and workers", f"{provenance.seed}, {provenance.workers}"),
        ("Peak memory", f"{provenance.peak_memory_mb:.0f} MB" if provenance.peak_memory_mb is not None else ""),
        ("Fingerprint of the input", provenance.input_hash),
    )
    return tuple(pair for pair in pairs if pair[1])


def _goal_cells(goal: GoalValue) -> tuple[str, str, str, str]:
    value = _number(goal.value) if goal.unit == "money" else f"{_number(goal.value)} {goal.unit}"
    if goal.bound is None:
        return value, "not known", "not known", "no bound computed"
    gap = (goal.value - goal.bound) / max(abs(goal.value), 1.0)
    return value, _number(goal.bound), f"{100 * gap:.1f}{NARROW_SPACE}%", "proven best" if goal.proven else "may be improved"


def _typical(schedule: Schedule, time: LocalTime) -> tuple[str, ...]:
    count = sum(work.typical_weather for work in schedule.work)
    if not count:
        return ()
    until = f" after {time.text(schedule.forecast_until)}" if schedule.forecast_until else ""
    return (f"{_count(count, 'step')}{until} rest on the weather of a typical year, not on a forecast; expect them to move.",)


def _count(number: int, one: str, many: str = "") -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"


def _number(value: float) -> str:
    return f"{value:,.2f}".rstrip("0").rstrip(".")


def _seconds(value: float | None) -> str:
    return "" if value is None else f"{value:.{1 if value >= 0.1 else 2}f} s"
