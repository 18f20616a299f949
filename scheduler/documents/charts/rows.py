"""Rows of the charts: places of bays with lanes of the yard, and people."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from scheduler.documents.charts.chart_text import chart_text
from scheduler.documents.words.direction import ISOLATE, set_apart
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.schedule import Work
from scheduler.shop.resources import Bay

LONGEST_LABEL = 26


@dataclass(frozen=True, slots=True)
class Rows:
    """Labels of the rows, inert, from the top, a long one of a bay on two lines; and where work belongs."""

    bay_labels: tuple[str, ...]
    crew_labels: tuple[str, ...]
    row_of_place: dict[tuple[str, int], int]
    row_of_work: dict[str, int]
    row_of_person: dict[str, int]


def rows_of(words: WorkWords) -> Rows:
    """Rows of a schedule: bays in the order of the shop's table, then the yard with as many lanes as work overlaps."""
    shop = words.shop
    places = [(bay.bay_id, place) for bay in shop.bays for place in range(1, bay.places + 1)]
    row_of_place = {place: row for row, place in enumerate(places)}
    lanes = _lanes(work for work in words.schedule.work if work.bay_id is None)
    yard = [f"Yard {lane + 1}" if max(lanes.values()) else "Yard" for lane in sorted(set(lanes.values()))]
    row_of_work = {work_id: len(places) + lane for work_id, lane in lanes.items()}
    for work in words.schedule.work:
        if work.bay_id is not None:
            row_of_work[work.work_id] = row_of_place[work.bay_id, words.place_number(work)]
    return Rows(
        bay_labels=(*(_place_label(shop.bay_by_id[bay_id], place) for bay_id, place in places), *yard),
        crew_labels=tuple(chart_text(set_apart(person.name), LONGEST_LABEL) for person in shop.crew),
        row_of_place=row_of_place,
        row_of_work=row_of_work,
        row_of_person={person.person_id: row for row, person in enumerate(shop.crew)},
    )


def _place_label(bay: Bay, place: int) -> str:
    """Name of a bay on one line or two, cut so that the number of the place stays in sight."""
    name, end = set_apart(" ".join(bay.name.split())), f" · {place}" if bay.places > 1 else ""
    spaces = [i for i, letter in enumerate(name) if letter == " "]
    if len(name) + len(end) <= LONGEST_LABEL or not spaces or ISOLATE in name:
        return chart_text(name, LONGEST_LABEL - len(end)) + end
    middle = min(spaces, key=lambda i: abs(2 * i - len(name)))
    return f"{chart_text(name[:middle], LONGEST_LABEL)}\n{chart_text(name[middle + 1 :], LONGEST_LABEL - len(end))}{end}"


def short_labels(words: WorkWords) -> tuple[list[str], list[str]]:
    """Labels of the same rows by id, for a narrow screen."""
    places = [(bay, place) for bay in words.shop.bays for place in range(1, bay.places + 1)]
    bays = [f"{chart_text(bay.bay_id, 9)}{f' · {place}' if bay.places > 1 else ''}" for bay, place in places]
    yard = rows_of(words).bay_labels[len(bays) :]
    return [*bays, *yard], [chart_text(person.person_id, 12) for person in words.shop.crew]


def _lanes(works: Iterable[Work]) -> dict[str, int]:
    """First lane that is free for each, so that no bar covers another."""
    free_from: list[datetime] = []
    lanes: dict[str, int] = {}
    for work in sorted(works, key=lambda w: (w.start, w.work_id)):
        lane = next((i for i, moment in enumerate(free_from) if moment <= work.start), len(free_from))
        free_from[lane : lane + 1] = [work.end]
        lanes[work.work_id] = lane
    return lanes
