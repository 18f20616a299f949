"""From integers back to people, bays and wall-clock times: a placed network becomes a schedule."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from scheduler.activities.as_told import told_by
from scheduler.activities.build import Built
from scheduler.activities.cartridges import draw_cartridges
from scheduler.activities.done_work import done_work
from scheduler.activities.named_places import leaving, named_places
from scheduler.activities.named_tools import named_tools
from scheduler.activities.network import Activity
from scheduler.activities.network import Stay as NetworkStay
from scheduler.activities.placed import Placed
from scheduler.activities.resources import COUNTED
from scheduler.activities.steps import NeededStep
from scheduler.schedule.schedule import Assigned, Schedule, Span, Stay, Work
from scheduler.shop.resources import Kind
from scheduler.shop.shop import Shop


@dataclass(frozen=True)
class Realised:
    """Work and stays in wall-clock time, the history of done steps included."""

    work: tuple[Work, ...]
    stays: tuple[Stay, ...]


def realise(shop: Shop, built: Built, placed: Placed, earlier: Schedule | None = None) -> Realised:
    """Turn a placed network into work and stays.

    Parameters
    ----------
    shop : Shop
    built : Built
    placed : Placed
    earlier : Schedule or None
        What people were told: among bays, tools and warmer slots that are alike each keeps the one that it had there, if it is
        free.
    """
    writer = _Writer(shop, built, placed, earlier)
    work = [writer.work(i) for i in range(len(built.network.activities))]
    listed = [*(writer.stay(k) for k in range(len(built.network.stays))), *writer.stays_that_end()]
    stays = tuple(sorted(listed, key=lambda s: (s.start, s.unit_id)))
    ordered = sorted([*work, *done_work(shop, built, stays)], key=lambda w: (w.start, w.work_id))
    return Realised(tuple(ordered), stays)


class _Writer:
    def __init__(self, shop: Shop, built: Built, placed: Placed, earlier: Schedule | None = None) -> None:
        self.shop, self.built, self.net, self.placed = shop, built, built.network, placed
        self.steps: dict[str, NeededStep] = {f"{u}/{s.name}": s for u, r in built.routes.items() for s in r.steps}
        self.place_of = named_places(shop, built, placed, earlier)
        told = told_by(earlier)
        self.tool_of = {kind: named_tools(shop, built, placed, kind, told) for kind in COUNTED}
        self.draws = draw_cartridges(shop, built, placed, self.tool_of[Kind.GUN], told)

    def end(self, i: int) -> int:
        return self.placed.start[i] + self.net.activities[i].slots

    def local(self, moment: datetime) -> datetime:
        return moment.astimezone(self.built.grid.zone)

    def stays_that_end(self) -> Iterator[Stay]:
        """Yield the stays that end with a step under way."""
        for i, row in leaving(self.built):
            bay, _, place = self.place_of[-1 - i].partition("|")
            start = self._first_start(row.done.unit_id, row.step.stage)
            end = self.local(row.done.ended_at)
            yield Stay(unit_id=row.done.unit_id, stage=row.step.stage, bay_id=bay, place=int(place), start=start, end=end)

    def spans(self, i: int) -> tuple[Span, ...]:
        grid, start, end = self.built.grid, self.placed.start[i], self.end(i)
        cuts = [w for w in range(start + 1, end) if grid.real[w] != grid.real[w - 1] + 1]
        edges = [start, *cuts, end]
        return tuple(
            Span(start=self.local(grid.start_of(a)), end=self.local(grid.end_of(b))) for a, b in itertools.pairwise(edges)
        )

    def bay_of(self, activity: Activity) -> str | None:
        return self.place_of[activity.stay].split("|")[0] if activity.stay >= 0 else None

    def stay(self, k: int) -> Stay:
        stay, grid = self.net.stays[k], self.built.grid
        bay, _, place = self.place_of[k].partition("|")
        return Stay(
            unit_id=stay.unit,
            stage=stay.stage,
            bay_id=bay,
            place=int(place),
            start=self._came_in(stay) if stay.since_start else self.local(grid.start_of(self.placed.start[stay.first])),
            end=self.local(grid.end_of(self.end(stay.last))),
        )

    def _came_in(self, stay: NetworkStay) -> datetime:
        """When a unit came into the bay in which it still is."""
        return self._first_start(stay.unit, stay.stage)

    def _first_start(self, unit_id: str, stage: str) -> datetime:
        here = {s.name for s in self.built.routes[unit_id].steps if s.stage == stage}
        return self.local(min(d.started_at for d in self.shop.done if d.unit_id == unit_id and d.step in here))

    def work(self, i: int) -> Work:
        activity, workers = self.net.activities[i], self.net.workers
        step, film = self.steps[activity.key], self.steps[activity.key].film
        crew = [(workers[w], skill) for w, skill in self.placed.crew[i]]
        tools = [w.key for w, _ in crew if not w.is_person] + [given[i] for given in self.tool_of.values() if i in given]
        return Work(
            work_id=activity.key,
            unit_id=activity.unit,
            order_id=activity.order,
            step=step.step,
            name=step.name,
            reason=step.reason,
            bay_id=self.bay_of(activity),
            spans=self.spans(i),
            people=tuple(Assigned(person_id=w.key, skill=skill) for w, skill in crew if w.is_person),
            tools=tuple(tools),
            product_id=film.product_id if film else None,
            area_m2=step.area_m2,
            coat_numbers=film.coat_numbers if film else (),
            volume_ml=film.volume_ml if film else 0.0,
            draws=self.draws.get(i, ()),
            typical_weather=self._typical(i),
        )

    def _typical(self, i: int) -> bool:
        """Whether any hour of the step, or until its film clears, lies past the forecast."""
        activity, k = self.net.activities[i], self.net.activities[i].stay
        bay_class = self.placed.bay_class[k] if k >= 0 else 0
        at = self.built.climates.at(bay_class)
        last = self.end(i) - 1
        if activity.product and activity.clears:
            last = min(max(last, activity.clears[bay_class][self.end(i)]), self.net.slots - 1)
        hours = at.hour[[self.placed.start[i], last]]
        return bool(at.climate.typical[int(hours[0]) : int(hours[1]) + 1].any())
