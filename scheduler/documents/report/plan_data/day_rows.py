"""What each day brings besides the work itself: warmers to load and to empty, what the store hands out, cautions."""

from typing import Any

from scheduler.documents.report.plan_data.axis import Axis
from scheduler.documents.report.plan_data.text_pool import TextPool
from scheduler.documents.report.report_days import ReportDay
from scheduler.documents.sheets.warmer_rows import WarmerRow
from scheduler.documents.store.pick import Pick
from scheduler.documents.words.work_words import WorkWords


def day_rows(words: WorkWords, days: tuple[ReportDay, ...], axis: Axis, pool: TextPool) -> list[dict[str, Any]]:
    """Days in order: date, title, first and last minute, rows of texts, names of the cautions."""
    return [
        {
            "day": day.day.isoformat(),
            "title": day.title,
            "from": axis.at(words.time.midnight(day.day)),
            "typical": day.sheet.typical_weather,
            "load": [_warmer(row, pool) for row in day.sheet.to_load],
            "take": [_warmer(row, pool) for row in day.sheet.to_take],
            "picks": [_pick(pick, pool) for pick in day.picks.picks],
            "cautions": [caution.name for caution in day.sheet.cautions],
        }
        for day in days
    ]


def _warmer(row: WarmerRow, pool: TextPool) -> list[int]:
    cartridges = f"{row.cartridges}: {row.packs}, {row.product}"
    return [
        pool(text) for text in (row.warmer, row.slots, cartridges, row.loaded, row.warm_from, row.used, row.outside, row.for_step)
    ]


def _pick(pick: Pick, pool: TextPool) -> list[int]:
    return [pool(text) for text in (pick.item, pick.shown, pick.source, pick.note, pick.group)]
