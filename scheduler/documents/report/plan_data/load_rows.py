"""Loads of a plan as steps: what is in use and what there is, from minute to minute."""

from typing import Any

from scheduler.documents.charts.loads import Level, Load, air_load, bay_load, crew_load, warmer_load
from scheduler.documents.report.plan_data.axis import Axis
from scheduler.documents.words.reading_units import Scale
from scheduler.documents.words.work_words import WorkWords


def load_rows(words: WorkWords, axis: Axis) -> list[dict[str, Any]]:
    """Loads in the order in which they are drawn, each with its words, its unit and its two levels."""
    shop, schedule, air = words.shop, words.schedule, words.units.air
    return [
        _load(axis, crew_load(shop, schedule), "People", "at work", "on shift"),
        _load(axis, air_load(shop, schedule), "Compressed air", "mean demand", "supply", air),
        _load(axis, warmer_load(shop, schedule), "Warmer slots", "in use", "there"),
        _load(axis, bay_load(shop, schedule), "Places in the bays", "taken", "there"),
    ]


def _load(axis: Axis, load: Load, name: str, used: str, there: str, scale: Scale | None = None) -> dict[str, Any]:
    return {
        "name": name,
        "words": [used, there],
        "unit": scale.symbol if scale else "",
        "used": _level(axis, load.in_use, scale),
        "there": _level(axis, load.there, scale),
    }


def _level(axis: Axis, level: Level, scale: Scale | None) -> list[list[float]]:
    """Minutes and values; of two changes that the clock shows in the same minute the last holds."""
    at = {axis.at(moment): value for moment, value in zip(level.moments, level.values, strict=True)}
    minutes = sorted(at)
    readings = (scale.reading(at[m]) if scale else at[m] for m in minutes)
    return [list(minutes), [round(value, 2) for value in readings]]
