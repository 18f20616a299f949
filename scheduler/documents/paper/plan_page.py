"""The plan on paper: state, dates, goals, what binds, and each week as a picture."""

from scheduler.check.breach import CheckReport
from scheduler.documents.charts.legend import legend
from scheduler.documents.charts.week_charts import week_charts
from scheduler.documents.pages.pages import page
from scheduler.documents.state.binding import bindings
from scheduler.documents.state.delivery_dates import date_rows
from scheduler.documents.state.plan_state import goals_table, headline
from scheduler.documents.words.local_time import long_day_text
from scheduler.documents.words.work_words import WorkWords


def plan_page(words: WorkWords, report: CheckReport) -> str:
    """Write the page; it holds its pictures itself."""
    schedule, time = words.schedule, words.time
    return page(
        "plan.html",
        "paper",
        site=words.shop.site.name,
        period=tuple(long_day_text(time.day(moment)) for moment in (schedule.plan_from, schedule.plan_until)),
        headline=headline(words, report),
        ok=report.ok,
        dates=date_rows(schedule),
        goals=goals_table(schedule),
        bindings=bindings(words),
        charts=week_charts(words),
        legend=legend(work.step.value for work in schedule.work),
    )
