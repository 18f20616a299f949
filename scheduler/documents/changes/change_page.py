"""A page with the difference of two schedules: charts of the hand-overs that move and of changed days, and the tables."""

from typing import Any

from scheduler.documents.changes.change_words import change_sentence, change_tables
from scheduler.documents.changes.changed_days import changed_days
from scheduler.documents.changes.hand_over_chart import hand_over_chart
from scheduler.documents.pages.pages import page
from scheduler.documents.words.local_time import LocalTime
from scheduler.schedule.changes import Changes


def change_page(site: str, found: Changes, time: LocalTime) -> str:
    """Page of a comparison, whole in one file.

    Parameters
    ----------
    site : str
        Name of the site.
    found : Changes
    time : LocalTime
    """
    return page("changes.html", "report", site=site, **change_values(found, time))


def change_values(found: Changes, time: LocalTime) -> dict[str, Any]:
    """What a template needs to tell a comparison."""
    return {
        "sentence": change_sentence(found, time),
        "chart": hand_over_chart(found, time) if found.dates else None,
        "day_chart": changed_days(found, time),
        "tables_of_changes": change_tables(found, time),
    }
