"""What the checker says of a schedule: breaches by the name of their rule, and figures that are not confirmed."""

from pathlib import Path
from zoneinfo import ZoneInfo

from scheduler.check.breach import Breach, CheckReport
from scheduler.cli.text_table import text_table
from scheduler.documents.words.local_time import LocalTime
from scheduler.rules import RULES


def verdict_text(path: Path, report: CheckReport, tz: ZoneInfo) -> str:
    """For a person; moments on the site's clock."""
    if report.ok:
        return f"{path}: all {len(RULES)} rules hold and every figure is confirmed"
    names = ", ".join(dict.fromkeys(b.rule for b in report.breaches))
    head = f"{path}: refused: {_count(len(report.breaches), 'breach', 'breaches')} of rules ({names or 'none'})"
    figures = [f"figure not confirmed: {says}" for says in report.mismatched_goals]
    return "\n".join([head, "", *_table(report.breaches, LocalTime(tz)), *figures])


def verdict_data(report: CheckReport) -> dict[str, object]:
    """For a machine."""
    return {
        "ok": report.ok,
        "breaches": [_breach_data(breach) for breach in report.breaches],
        "mismatched_goals": list(report.mismatched_goals),
        "goals": report.goals,
    }


def _table(breaches: tuple[Breach, ...], time: LocalTime) -> list[str]:
    if not breaches:
        return []
    rows = [(b.rule, time.text(b.at) if b.at else "", b.says) for b in breaches]
    return [text_table(("rule", "when", "what"), rows), ""]


def _breach_data(breach: Breach) -> dict[str, object]:
    return {
        "rule": breach.rule,
        "work_ids": list(breach.work_ids),
        "at": breach.at.isoformat(timespec="minutes") if breach.at else None,
        "amount": breach.amount,
        "unit": RULES[breach.rule].measured_in,
        "says": breach.says,
    }


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"
