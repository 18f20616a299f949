"""A schedule's work as the checker sees it: in UTC, beside what the unit needs, the method and the bay."""

from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache

from scheduler.check.moments import Stretch, instant
from scheduler.check.required_steps import NeededStep
from scheduler.schedule.schedule import Work
from scheduler.shop.methods import Method
from scheduler.shop.product_sheet import Supply
from scheduler.shop.resources import Bay
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Unit


@dataclass(frozen=True, slots=True, eq=False)
class Job:
    """Work that a unit needs, as the schedule has it.

    Attributes
    ----------
    work : Work
        As it stands in the schedule.
    need : NeededStep
        What the unit needs, by the checker's own reckoning.
    bay : Bay or None
        None in the yard, and where the schedule names a bay that is not there.
    spans : tuple of Stretch
        In UTC.
    """

    work: Work
    need: NeededStep
    method: Method
    unit: Unit
    bay: Bay | None
    spans: tuple[Stretch, ...]

    @property
    def start(self) -> datetime:
        """When it starts, UTC."""
        return self.spans[0].start

    @property
    def end(self) -> datetime:
        """When it ends, UTC."""
        return self.spans[-1].end

    @property
    def minutes(self) -> float:
        """Attended time, min."""
        return sum(span.minutes for span in self.spans)

    @property
    def label(self) -> str:
        """Unit and step, such as ``U07 coat-2``."""
        return f"{self.work.unit_id} {self.work.name}"

    @property
    def sprays_cartridges(self) -> bool:
        """A film step with a product that comes in cartridges."""
        return self.need.film is not None and self.need.film.product.supply is Supply.CARTRIDGE

    @property
    def people(self) -> tuple[str, ...]:
        """Ids of the people on it, each once."""
        return tuple(dict.fromkeys(who.person_id for who in self.work.people))


def job_of(shop: Shop, work: Work, need: NeededStep) -> Job:
    """Return the job of a unit that the shop has."""
    tz = shop.site.tz
    spans = tuple(Stretch(instant(span.start, tz), instant(span.end, tz)) for span in work.spans)
    bay = shop.bay_by_id.get(work.bay_id or "")
    return Job(work, need, shop.method_of[need.step], shop.unit_by_id[work.unit_id], bay, spans)


def both_done(one: Job, two: Job) -> bool:
    """Whether two jobs are history, which nobody judges."""
    return one.work.done and two.work.done


@lru_cache(maxsize=1024)
def piece_of(tool: str) -> tuple[str, int]:
    """Split a tool of a work into the id of its row and its number in it: ``G1#2`` to (``G1``, 2), ``L1`` to (``L1``, 1).

    A number that cannot be read is 0, which no row has.
    """
    equipment_id, mark, number = tool.partition("#")
    return equipment_id, (int(number) if number.isdecimal() else 0) if mark else 1
