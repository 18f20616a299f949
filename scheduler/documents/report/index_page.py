"""The page that holds everything: the state of the plan in words, and the plan as data for charts, days and units."""

from scheduler.check.breach import CheckReport
from scheduler.documents.cautions.cautions import RULE, all_cautions
from scheduler.documents.changes.change_page import change_values
from scheduler.documents.charts.legend import legend
from scheduler.documents.charts.progress_chart import progress_chart, progress_table
from scheduler.documents.pages.pages import chart_library, page, report_script
from scheduler.documents.report.plan_data.plan_data import kinds_drawn, plan_data
from scheduler.documents.report.report_days import ReportDay
from scheduler.documents.state.binding import bindings
from scheduler.documents.state.delivery_dates import date_rows, hand_over_table
from scheduler.documents.state.plan_state import facts, goals_table, headline, rules_table, tiles
from scheduler.documents.state.slack_strip import slack_strips
from scheduler.documents.store.material_tables import material_tables, waste_tile
from scheduler.documents.words.local_time import long_day_text
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.changes import changes
from scheduler.schedule.schedule import Schedule


def index_page(
    words: WorkWords,
    report: CheckReport,
    days: tuple[ReportDay, ...],
    papers: tuple[tuple[str, str], ...],
    earlier: Schedule | None = None,
) -> str:
    """Write the page.

    Parameters
    ----------
    words : WorkWords
        The schedule with its shop.
    report : CheckReport
        What the check says of it.
    days : tuple of ReportDay
    papers : tuple of (file, name)
        What lies beside the page for each day; ``DATE`` in a file stands for the day.
    earlier : Schedule, optional
        Plan that this one replaces; the page then says what changed.
    """
    data = plan_data(words, days) | {"papers": papers}
    state = _state(words, report)
    return page(
        "index.html",
        "report",
        (chart_library(), report_script()),
        plan=data,
        legend=legend(kinds_drawn(data)),
        cautions=all_cautions(),
        rule=RULE,
        material=material_tables(words),
        changed=change_values(changes(earlier, words.schedule), words.time) if earlier else None,
        **state,
        **_origin(words),
    )


def _state(words: WorkWords, report: CheckReport) -> dict[str, object]:
    """Values of the first screen."""
    schedule, time = words.schedule, words.time
    return {
        "site": words.shop.site.name,
        "period": tuple(long_day_text(time.day(moment)) for moment in (schedule.plan_from, schedule.plan_until)),
        "headline": headline(words, report),
        "tiles": (*tiles(schedule), waste_tile(words)),
        "ok": report.ok,
        "dates": date_rows(schedule),
        "strips": slack_strips(schedule),
        "hand_overs": hand_over_table(schedule),
        "bindings": bindings(words),
        "goals": goals_table(schedule),
        "rules": rules_table(report),
        "mismatched": report.mismatched_goals,
    }


def _origin(words: WorkWords) -> dict[str, object]:
    """Values of the last section: how the plan was found."""
    provenance = words.schedule.provenance
    return {
        "facts": facts(provenance, words.time),
        "progress": progress_chart(words.schedule),
        "progress_points": progress_table(words.schedule),
    }
