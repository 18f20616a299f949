"""From integers back to people, bays and wall-clock times: a placed network becomes a schedule."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from scheduler.activities.as_told import told_by
from scheduler.activities.build import Built
from scheduler.activities.cartridges import draw_cartridges
from scheduler.activities.hand_out import Spans, Use, hand_out
from scheduler.activities.network import Activity
from scheduler.activities.network import Stay as NetworkStay
from scheduler.activities.placed import Placed
from scheduler.activities.resources import COUNTED, equipment_shut, item_id
from scheduler.activities.steps import NeededStep
from scheduler.activities.under_way import UnderWay, change_slots
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
    ordered = sorted([*work, *_history(shop, built, stays)], key=lambda w: (w.start, w.work_id))
    return Realised(tuple(ordered), stays)


def _history(shop: Shop, built: Built, stays: tuple[Stay, ...]) -> Iterator[Work]:
    """Yield the done steps as recorded; a bay that was not recorded is that of the stay, if it still lasts."""
    bay_of = {(stay.unit_id, stay.stage): stay.bay_id for stay in stays}
    for done in shop.done:
        step = next((s for s in built.routes[done.unit_id].steps if s.name == done.step), None)
        if step is None:
            continue
        unit = shop.unit_by_id[done.unit_id]
        yield Work(
            work_id=f"{done.unit_id}/{done.step}",
            unit_id=done.unit_id,
            order_id=unit.order_id,
            step=step.step,
            name=done.step,
            reason=step.reason,
            bay_id=done.bay_id or bay_of.get((done.unit_id, step.stage)),
            spans=(Span(start=done.started_at, end=done.ended_at),),
            people=tuple(Assigned(person_id=p, skill="") for p in done.people),
            tools=done.tools,
            product_id=step.film.product_id if step.film else None,
            area_m2=step.area_m2,
            coat_numbers=step.film.coat_numbers if step.film else (),
            volume_ml=step.film.volume_ml if step.film else 0.0,
            draws=(),
            done=True,
        )


class _Writer:
    def __init__(self, shop: Shop, built: Built, placed: Placed, earlier: Schedule | None = None) -> None:
        self.shop, self.built, self.net, self.placed = shop, built, built.network, placed
        told = earlier.stays if earlier is not None else ()
        self.told = {(stay.unit_id, stay.stage): f"{stay.bay_id}|{stay.place}" for stay in told}
        self.earlier = told_by(earlier)
        self.steps: dict[str, NeededStep] = {f"{u}/{s.name}": s for u, r in built.routes.items() for s in r.steps}
        self.place_of = self._places()
        self.tool_of = {kind: self._tools(kind) for kind in COUNTED}
        self.draws = draw_cartridges(shop, built, placed, self.tool_of[Kind.GUN], self.earlier)

    def end(self, i: int) -> int:
        return self.placed.start[i] + self.net.activities[i].slots

    def local(self, moment: datetime) -> datetime:
        return moment.astimezone(self.built.grid.zone)

    def _places(self) -> dict[int, str]:
        given: dict[int, str] = {}
        for c, group in enumerate(self.net.classes):
            items = [f"{bay}|{n + 1}" for bay in group.bays for n in range(self.shop.bay_by_id[bay].places)]
            stays = [k for k in range(len(self.net.stays)) if self.placed.bay_class[k] == c]
            uses = [self._use(k, items) for k in stays]
            leaving = [Use(-1 - i, 0, row.leaves) for i, row in self._leaving() if row.done.bay_id in group.bays]
            given |= hand_out([*uses, *leaving], items)
        return given

    def _use(self, k: int, items: list[str]) -> Use:
        stay = self.net.stays[k]
        told = self.told.get((stay.unit, stay.stage), "")
        return Use(k, self._stay_start(k), self.end(stay.last), told=told if told in items else "")

    def _leaving(self) -> Iterator[tuple[int, UnderWay]]:
        """Yield the steps under way with which a unit leaves its bay, by number."""
        return ((i, row) for i, row in enumerate(self.built.begun) if row.last_of_stay and row.done.bay_id is not None)

    def stays_that_end(self) -> Iterator[Stay]:
        """Yield the stays that end with a step under way."""
        for i, row in self._leaving():
            bay, _, place = self.place_of[-1 - i].partition("|")
            start = self._first_start(row.done.unit_id, row.step.stage)
            end = self.local(row.done.ended_at)
            yield Stay(unit_id=row.done.unit_id, stage=row.step.stage, bay_id=bay, place=int(place), start=start, end=end)

    def _stay_start(self, k: int) -> int:
        stay = self.net.stays[k]
        return 0 if stay.since_start else self.placed.start[stay.first]

    def _tools(self, kind: Kind) -> dict[int, str]:
        rows = self.shop.equipment_of(kind)
        items = {item_id(e, n + 1): e.equipment_id for e in rows for n in range(e.count)}
        pool = next(i for i, p in enumerate(self.net.pools) if p.key == kind.value)
        shut = {item: self._not_there(item, row_id) for item, row_id in items.items()}
        uses = []
        for i, activity in enumerate(self.net.activities):
            for demand in activity.demands:
                if demand.pool == pool:
                    told, end = self.earlier.tool(activity.key, items), self.end(i) + demand.tail
                    uses.append(Use(i, self.placed.start[i], end, activity.product or "", told, kind_first=kind is Kind.GUN))
        cheapest = sorted(items, key=lambda item: next(e.rent_per_day for e in rows if e.equipment_id == items[item]))
        return hand_out(uses, cheapest, shut)

    def _not_there(self, item: str, row_id: str) -> Spans:
        """When a tool is out of service, or still in use by a step under way."""
        change = change_slots(self.shop) if self._kind(row_id) is Kind.GUN else 0
        in_use = [(0, row.end + change) for row in self.built.begun if item in row.done.tools]
        return (*equipment_shut(self.shop, self.built.grid, row_id), *in_use)

    def _kind(self, row_id: str) -> Kind:
        """Kind of a row of equipment."""
        return next(row.kind for row in self.shop.equipment if row.equipment_id == row_id)

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
