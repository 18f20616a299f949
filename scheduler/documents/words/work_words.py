"""A piece of work in the words of the shop floor: which step, on what, by whom, where and how much."""

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from functools import cached_property

from scheduler.check.climates import Climates
from scheduler.documents.words.by_day import ByDay, by_day
from scheduler.documents.words.shop_words import ShopWords
from scheduler.documents.words.step_marks import STEP_MARKS
from scheduler.material.explain import Explained, explain
from scheduler.material.statement import Account, statement
from scheduler.material.store_days import StoreDay, store_days
from scheduler.material.warmer_list import Loading, warmer_list
from scheduler.record.events import Plain
from scheduler.schedule.schedule import Schedule, Stay, Work
from scheduler.shop.fixed import ReworkKind
from scheduler.shop.methods import FILM_STEPS, MOVE_STEPS, Step

YARD = "Yard"


@dataclass(frozen=True)
class WorkWords(ShopWords):
    """Words for the work of one schedule, and the lists that several documents make of it.

    Attributes
    ----------
    shop : Shop
        Names behind the ids.
    schedule : Schedule
        Whose work it is.
    happened : tuple of Plain
        What has been recorded and stands.
    """

    schedule: Schedule
    happened: tuple[Plain, ...] = ()

    @cached_property
    def by_day(self) -> ByDay:
        """The schedule by local day."""
        return by_day(self.schedule, self.time)

    @cached_property
    def store_days(self) -> dict[date, StoreDay]:
        """What moves between store and floor, by local day."""
        return store_days(self.shop, self.schedule)

    @cached_property
    def accounts(self) -> tuple[Account, ...]:
        """What becomes of the material, by product."""
        return statement(self.shop, self.schedule)

    @cached_property
    def openings(self) -> tuple[Explained, ...]:
        """Packs opened beyond the fewest, with their reasons."""
        return explain(self.shop, self.schedule)

    @cached_property
    def loading_list(self) -> tuple[Loading, ...]:
        """Every cartridge that goes into a warmer, with the air of the bay at its step."""
        return warmer_list(self.shop, self.schedule, Climates(self.shop).coldest_air_c)

    @cached_property
    def loaded_together(self) -> dict[tuple[str, str, datetime], list[Loading]]:
        """The same by work, warmer and time."""
        found: dict[tuple[str, str, datetime], list[Loading]] = defaultdict(list)
        for row in self.loading_list:
            found[row.work.work_id, row.warmer_id, row.loaded_at].append(row)
        return found

    @cached_property
    def _stays_of(self) -> dict[str, list[Stay]]:
        stays: dict[str, list[Stay]] = defaultdict(list)
        for stay in self.schedule.stays:
            stays[stay.unit_id].append(stay)
        return stays

    def step(self, work: Work) -> str:
        """Step in words, with its number where a unit has several: ``Coat 2``; ``Coat 2, the rest`` of one that was stopped."""
        name = re.sub(r"(-r[0-9]+)+$", "", work.name)
        number = name.removeprefix(f"{work.step.value}-")
        numbered = number != name and work.step in FILM_STEPS
        return STEP_MARKS[work.step].label + (f" {number}" if numbered else "") + self._rework(work)

    def _rework(self, work: Work) -> str:
        """What is said of a step that makes something good: that it is the rest of one, or that it was done before."""
        found = re.search(r"-r([0-9]+)$", work.name)
        rows = {row.number: row for row in self.shop.rework_of.get(work.unit_id, ())}
        row = rows.get(int(found[1])) if found is not None else None
        if row is None:
            return ""
        if row.kind is ReworkKind.REST:
            return ", the rest"
        return "" if work.step in {Step.CUT_OUT, Step.TOUCH_UP} else ", again"

    def letter(self, work: Work) -> str:
        """Mark of the step, with its number: ``C2``."""
        number = work.name.removeprefix(f"{work.step.value}-")
        return STEP_MARKS[work.step].letter + (number if number.isdigit() else "")

    def tools(self, work: Work) -> str:
        """Equipment of a piece of work, each with its name."""
        return ", ".join(self.tool(tool_id) for tool_id in work.tools)

    def place(self, work: Work) -> str:
        """Bay, with the place in it where it has several."""
        if work.bay_id is None:
            return YARD
        return self.bay_place(work.bay_id, self.place_number(work))

    def place_number(self, work: Work) -> int:
        """Place of the unit in the bay of the work; 1 where no stay tells."""
        here = (s for s in self._stays_of[work.unit_id] if s.bay_id == work.bay_id and s.start <= work.start < s.end)
        return next((stay.place for stay in here), 1)

    def people(self, work: Work) -> tuple[str, ...]:
        """Names with what each is there for."""
        return tuple(self.assigned(a) for a in work.people)

    def how_much(self, work: Work) -> tuple[str, ...]:
        """Area, millilitres and packs; a move says the mass that is lifted."""
        unit = self.shop.unit_by_id.get(work.unit_id)
        if work.step in MOVE_STEPS:
            return () if unit is None else (self.units.mass.text(unit.mass_kg),)
        area = (self.units.area.text(work.area_m2),) if work.area_m2 else ()
        volume = (self.units.volume.text(work.volume_ml),) if work.volume_ml else ()
        return (*area, *volume, *((self.packs(work.product_id, work.packs),) if work.packs else ()))

    def films(self, work: Work) -> Iterator[str]:
        """Dry film of each coat of a step, as the coating systems of the unit's surfaces ask for it, once for each thickness."""
        systems = {row.system_id for row in self.shop.surfaces if row.unit_id == work.unit_id}
        coats = [row for row in self.shop.coating_systems if row.system_id in systems and row.coat in work.coat_numbers]
        yield from dict.fromkeys(self.units.film.text(row.dft_um) for row in coats if row.product_id == work.product_id)
