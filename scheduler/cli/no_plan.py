"""A search that ends without a schedule: what clashes, or that time was too short, or that the checker refused it."""

from scheduler.check.breach import CheckReport
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.rules import RULES
from scheduler.schedule.schedule import Status
from scheduler.search.outcome import Clash, Outcome


def no_schedule(outcome: Outcome) -> Failed:
    """There is none, or none was found in the time given."""
    if outcome.status is Status.INFEASIBLE:
        return _infeasible(outcome)
    says = f"No schedule was found in {outcome.search_s:.0f} s, and none was ruled out"
    hint = "Give it more time with --time-limit, a later plan_until, or less work."
    says += f": {outcome.clash.says}. {hint}" if outcome.clash else f". {hint}"
    data = {"status": outcome.status.value, "says": says, "search_s": round(outcome.search_s, 3)}
    return Failed(ExitCode.NO_SCHEDULE, says, data)


def _infeasible(outcome: Outcome) -> Failed:
    clash = outcome.clash or Clash((), (), "it is not known which orders and rules clash")
    rules = [f"  {name}: {RULES[name].says}" for name in clash.rules]
    why = clash.says.partition(". Rules that clash")[0]  # the rules follow, a line for each
    lines = ["No schedule can keep all rules.", f"Why: {why}."]
    lines += [f"Orders that clash: {', '.join(clash.orders)}"] if clash.orders else []
    lines += [f"Rules that clash{', and no fewer do (proven)' if clash.fewest else ''}:", *rules] if rules else []
    data = {"status": outcome.status.value, "says": clash.says, "orders": list(clash.orders), "rules": list(clash.rules)}
    return Failed(ExitCode.REFUSED, "\n".join(lines), {**data, "fewest_proven": clash.fewest})


def refused(report: CheckReport) -> Failed:
    """The checker refused what the search found: nothing is written."""
    from scheduler.cli.verdict import verdict_data

    says = [f"  {b.rule}: {b.says}" for b in report.breaches] + [f"  {figure}" for figure in report.mismatched_goals]
    head = "The checker refused the schedule that was found. This is a fault of coatrun: please report it with the shop folder."
    return Failed(ExitCode.REFUSED, "\n".join([head, *says[:20]]), {"status": "refused", **verdict_data(report)})
