"""What has to be made good on a unit: steps put into its route, and what they change of its films."""

from dataclasses import dataclass, replace
from itertools import pairwise

from scheduler.activities.films import Film, Films, Run, films_in
from scheduler.activities.rest import left_share, with_rest
from scheduler.activities.rework_stays import in_stays, stay_of_rework
from scheduler.activities.steps import NeededStep, Route
from scheduler.physics.film import cartridges_for_run, practical_ml
from scheduler.shop.fixed import Rework, ReworkKind
from scheduler.shop.methods import Step
from scheduler.shop.shop import Shop


def made_good(shop: Shop, route: Route) -> Route:
    """Put the rework of a unit into its route, row by row of the table; a row that fits nowhere is left out."""
    for row in shop.rework_of[route.unit_id]:
        if any(step.name == row.after for step in route.steps):
            route = _Putting(shop, route, row, row.number or 0).route_after()
    return route


@dataclass(frozen=True)
class _Putting:
    """One row of rework being put into a route."""

    shop: Shop
    route: Route
    row: Rework
    number: int

    @property
    def at(self) -> int:
        """Place in the steps at which the new ones go in."""
        return next(i for i, step in enumerate(self.route.steps) if step.name == self.row.after) + 1

    def route_after(self) -> Route:
        """The route with the new steps."""
        if self.row.kind is ReworkKind.REST:
            return with_rest(self.shop, self.route, self.row, self.number)
        new, films = self._new()
        return Route(self.route.unit_id, in_stays(self.route, self.row, self.number, self.at, new), films)

    @property
    def stage(self) -> str:
        """Stage of the new steps."""
        return stay_of_rework(self.route, self.row, self.number, self.route.steps[self.at - 1])

    def _new(self) -> tuple[list[NeededStep], Films]:
        match self.row.kind:
            case ReworkKind.REPAIR if (film := self._film()) is not None:
                return self._repair(film)
            case ReworkKind.REDO if (film := self._film()) is not None:
                return self._redo(film)
            case ReworkKind.WIPE:
                return self._wipe(), self.route.films
        return self._abrade()

    def _film(self) -> Film | None:
        """The film that is made good: the one that is named, else the last one before."""
        before = [step.film for step in self.route.steps[: self.at] if step.film is not None]
        named = [film for film in before if film.name == self.row.film]
        found = named or before
        return found[-1] if found else None

    def _next_m2(self) -> float:
        """Area of the next film, or of the last one where none follows."""
        films = [step.film for step in self.route.steps[self.at :] if step.film is not None]
        last = self._film()
        return films[0].area_m2 if films else last.area_m2 if last else 0.0

    def _steps(self, *wanted: tuple[Step, float]) -> list[NeededStep]:
        """Steps by kind and area, those without a method left out."""
        found = []
        for step, area_m2 in wanted:
            method = self.shop.method_of.get(step)
            if method is not None:
                found.append(NeededStep(step, f"{step.value}-r{self.number}", self.stage, method, area_m2, self.row.reason))
        return found

    def _wipe(self) -> list[NeededStep]:
        """Wipe the area of the next film again, but for what the rest of a wipe is to wipe anyway."""
        return self._steps((Step.WIPE, self._again_m2(Step.WIPE)))

    def _abrade(self) -> tuple[list[NeededStep], Films]:
        """Abrade the area of the next film again, and wipe it if it is not wiped before the film anyway."""
        wiped = any(step.step is Step.WIPE and not step.rest_of for step in self._until_film())
        wipe = () if wiped else ((Step.WIPE, self._again_m2(Step.WIPE)),)
        new = self._steps((Step.ABRADE, self._again_m2(Step.ABRADE)), *wipe)
        film = next((step.name for step in self.route.steps[self.at :] if step.film), "")
        return new, self._renewed(film, self.route.films.films, self.route.films.runs)

    def _until_film(self) -> tuple[NeededStep, ...]:
        """Steps that are left before the next film."""
        later = self.route.steps[self.at :]
        return later[: next((i for i, step in enumerate(later) if step.film), len(later))]

    def _again_m2(self, kind: Step) -> float:
        """Area of the next film that is prepared again: all but the share that a rest prepares before it anyway."""
        return self._next_m2() * (1 - left_share(self.route.steps, kind, self._until_film()))

    def _renewed(self, film: str, rows: tuple[Film, ...], runs: tuple[Run, ...]) -> Films:
        """Films of which the one that is put on what was abraded does not mind how long it has been."""
        before = {step.name for step in self.route.steps[: self.at] if step.film}
        pairs = {(a, b) for run in runs for a, b in pairwise(run.films) if a in before and b == film}
        return films_in(rows, runs, self.route.films.renewed | pairs)

    def _redo(self, film: Film) -> tuple[list[NeededStep], Films]:
        again = replace(film, name=f"{film.name}-r{self.number}", reason=self.row.reason)
        prepared = self._steps((Step.ABRADE, film.area_m2), (Step.WIPE, film.area_m2))
        runs = tuple(self._once_more(run, film.name, again.name) for run in self.route.films.runs)
        films = self._renewed(again.name, self._rows_with(again), runs)
        return [*prepared, self._film_step(again)], films

    def _once_more(self, run: Run, name: str, again: str) -> Run:
        """A run in which a film is put on once more, on top of all that is there."""
        if name not in run.films:
            return run
        before = {step.name for step in self.route.steps[: self.at] if step.film}
        top = sum(1 for done in run.films if done in before)
        return Run(
            run.part,
            (*run.films[:top], again, *run.films[top:]),
            (*run.dft_um[:top], 0.0, *run.dft_um[top:]),
            run.patch,
        )

    def _repair(self, film: Film) -> tuple[list[NeededStep], Films]:
        """Cut out a share of a film's area and give it back what lies there of the product."""
        name, share = f"{Step.TOUCH_UP.value}-r{self.number}", self.row.share_pct / 100
        product = self.shop.product_by_id[film.product_id]
        of_product = {f.name for f in self.route.films.films if f.product_id == film.product_id}
        before = {step.name for step in self.route.steps[: self.at] if step.film}
        patches, volume_ml = [], 0.0
        for run in self.route.films.runs:
            if not run.is_area_of(film.name):
                continue
            part = replace(run.part, area_m2=run.part.area_m2 * share)
            dft_um = sum(um for f, um in zip(run.films, run.dft_um, strict=True) if f in before & of_product)
            profile_um = run.part.surface.profile_um
            volume_ml += practical_ml(part.area_m2, dft_um, product.volume_solids_pct, profile_um, product.loss_pct)
            later = tuple((f, um) for f, um in zip(run.films, run.dft_um, strict=True) if f not in before)
            patches.append(Run(part, (name, *(f for f, _ in later)), (dft_um, *(um for _, um in later)), name))
        area_m2, packs = film.area_m2 * share, cartridges_for_run(volume_ml, product.usable_ml)
        kind = Step.TOUCH_UP if Step.TOUCH_UP in self.shop.method_of else film.step
        patch = Film(kind, name, film.product_id, film.coat_numbers, area_m2, volume_ml, packs, self.row.reason)
        films = films_in(self._rows_with(patch), (*self.route.films.runs, *patches), self.route.films.renewed)
        return [*self._steps((Step.CUT_OUT, area_m2), (Step.WIPE, area_m2)), self._film_step(patch)], films

    def _rows_with(self, new: Film) -> tuple[Film, ...]:
        """Films in the order of their steps, with a new one."""
        films, before = self.route.films.films, sum(1 for step in self.route.steps[: self.at] if step.film)
        return (*films[:before], new, *films[before:])

    def _film_step(self, film: Film) -> NeededStep:
        return NeededStep(film.step, film.name, self.stage, self.shop.method_of[film.step], film.area_m2, film.reason, film)
