"""What was measured for each film and recorded, beside the limits that it must hold.

A reading of air, steel or humidity belongs to the film that comes next, or is being sprayed; a film thickness to the film that
was put on last. A reading of a bay counts for the films that are put on there on the same day.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from scheduler.documents.sheets.limits import Reading, readings
from scheduler.documents.words.work_words import WorkWords
from scheduler.physics.psychrometrics import dew_point_c, rh_pct
from scheduler.record import events
from scheduler.record.progress import progress_of
from scheduler.schedule.schedule import Work
from scheduler.shop.methods import FILM_STEPS


@dataclass(frozen=True, slots=True)
class Figure:
    """One quantity that was measured.

    Attributes
    ----------
    name : str
        As ``limits.Reading`` names it; ``dft_um`` for a film thickness.
    what, value, must_be : str
        In what the site reads; ``must_be`` is empty where nothing limits it.
    outside : bool
        Whether the stored value lies outside the limits.
    """

    name: str
    what: str
    value: str
    must_be: str
    outside: bool


@dataclass(frozen=True, slots=True)
class Measured:
    """One report of readings: when, by whom, and the figures that concern the film."""

    when: str
    by: str
    figures: tuple[Figure, ...]


@dataclass(frozen=True)
class FilmReadings:
    """Readings that were recorded, by the film that they belong to."""

    words: WorkWords

    @cached_property
    def of_film(self) -> Mapping[str, tuple[Measured, ...]]:
        """Reports by work id, in the order in which they were taken."""
        found: dict[str, list[Measured]] = defaultdict(list)
        for event in self.words.happened:
            if isinstance(event, events.Reading):
                for work, figures in self._belongs(event):
                    found[work.work_id].append(Measured(self.words.time.text(event.happened_at), event.by, figures))
        return {work_id: tuple(rows) for work_id, rows in found.items()}

    @cached_property
    def _films(self) -> dict[str, list[tuple[datetime, datetime, Work]]]:
        """Films of each unit with the times at which they were put on, as reported, else as planned."""
        happened = self.words.happened
        runs = progress_of(happened, max((e.happened_at for e in happened), default=self.words.schedule.plan_from)).runs
        films: dict[str, list[tuple[datetime, datetime, Work]]] = defaultdict(list)
        for work in self.words.schedule.work:
            if work.step in FILM_STEPS:
                run = runs.get((work.unit_id, work.name))
                start = run.started_at if run else work.start
                films[work.unit_id].append((start, (run and (run.ended_at or run.planned_end)) or work.end, work))
        return {unit_id: sorted(rows, key=lambda row: row[0]) for unit_id, rows in films.items()}

    def _belongs(self, event: events.Reading) -> Iterator[tuple[Work, tuple[Figure, ...]]]:
        for films in self._films.values() if event.unit_id is None else [self._films.get(event.unit_id, [])]:
            before = [row for row in films if row[0] <= event.happened_at]
            ahead = next((row for row in films if event.happened_at <= row[1]), None)
            if ahead is not None and self._concerns(event, ahead) and (figures := tuple(self._climate(event, ahead[2]))):
                yield ahead[2], figures
            if before and event.unit_id is not None and event.dft_um:
                yield before[-1][2], (self._thickness(event.dft_um, before[-1][2]),)

    def _concerns(self, event: events.Reading, film: tuple[datetime, datetime, Work]) -> bool:
        start, _, work = film
        same_day = self.words.time.day(event.happened_at) == self.words.time.day(start)
        return event.unit_id is not None or (event.bay_id == work.bay_id and same_day)

    def _climate(self, event: events.Reading, work: Work) -> Iterator[Figure]:
        limits = {limit.name: limit for limit in readings(self.words, work)}
        units, dew_c, humidity_pct = self.words.units, *_humidity(event)
        above_k = event.steel_c - dew_c if event.steel_c is not None and dew_c is not None else None
        for name, what, scale, value in (
            ("air_c", "air temperature", units.temperature, event.air_c),
            ("steel_c", "steel temperature", units.temperature, event.steel_c),
            ("dew_point_c", "dew point", units.temperature, dew_c),
            ("dew_margin_k", "steel above dew point", units.difference, above_k),
            ("rh_pct", "humidity", units.humidity, humidity_pct),
        ):
            if value is not None:
                limit = limits.get(name)
                yield Figure(name, what, scale.text(value), limit.must_be if limit else "", _is_outside(value, limit))

    def _thickness(self, dft_um: tuple[float, ...], work: Work) -> Figure:
        film = self.words.units.film
        low, high, mean = min(dft_um), max(dft_um), sum(dft_um) / len(dft_um)
        several = f"{film.text(low)} to {film.text(high)}, mean of {len(dft_um)}: {film.text(mean)}"
        asked = ", ".join(self.words.films(work))
        return Figure("dft_um", "film thickness", several if len(dft_um) > 1 else film.text(low), asked, outside=False)


def _humidity(event: events.Reading) -> tuple[float | None, float | None]:
    """Dew point and relative humidity: one is worked out of the other where the air temperature is known."""
    dew_c, humidity_pct = event.dew_point_c, event.rh_pct
    if event.air_c is not None and dew_c is None and humidity_pct:
        dew_c = float(dew_point_c(event.air_c, humidity_pct))
    if event.air_c is not None and humidity_pct is None and dew_c is not None:
        humidity_pct = float(rh_pct(event.air_c, dew_c))
    return dew_c, humidity_pct


def _is_outside(value: float, limit: Reading | None) -> bool:
    if limit is None:
        return False
    return (limit.low is not None and value < limit.low) or (limit.high is not None and value > limit.high)
