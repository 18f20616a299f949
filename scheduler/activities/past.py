"""What has happened in the shop as a whole, and what it means for everything that is left."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from scheduler.activities.climates import Climates
from scheduler.activities.history import History
from scheduler.activities.steps import NeededStep, Route
from scheduler.shop.fixed import Done
from scheduler.shop.methods import Emits
from scheduler.shop.shop import Shop


@dataclass(frozen=True)
class Past:
    """The done work of all units.

    Attributes
    ----------
    now : int
        First slot after everything that was begun after the plan begins: nothing is planned before what has happened.
    clear : mapping of str to int
        By air space the first slot at which no vapour of done work is left in it.
    settled : mapping of str to int
        By air space the first slot at which no step under way raises dust or sparks in it.
    """

    now: int = 0
    clear: Mapping[str, int] = field(default_factory=dict)
    settled: Mapping[str, int] = field(default_factory=dict)

    @property
    def binds(self) -> bool:
        """Whether it narrows what is left to anybody."""
        return self.now > 0 or bool(self.clear) or bool(self.settled)


def past_of(shop: Shop, climates: Climates, routes: Mapping[str, Route]) -> Past:
    """Read the records of done work."""
    now, clear, settled = 0, dict[str, int](), dict[str, int]()
    for done in shop.done:
        history = History(shop, climates, {done.step: done})
        if done.started_at > shop.site.plan_from:
            now = max(now, history.end_slot(done.step))
        step = next((s for s in routes[done.unit_id].steps if s.name == done.step), None)
        if step is None:
            continue
        if step.film or step.method.emits is Emits.VAPOUR:
            for space, slot in _clear(step, done, history):
                clear[space] = max(clear.get(space, 0), slot)
        elif step.method.emits is Emits.DUST:
            for space in _spaces(done, climates):
                settled[space] = max(settled.get(space, 0), history.end_slot(done.step))
    return Past(now, clear, settled)


def _spaces(done: Done, climates: Climates) -> set[str]:
    """Air spaces in which a step may have been done."""
    groups = climates.classes
    return {g.air_space for g in groups if g.air_space is not None and (done.bay_id is None or done.bay_id in g.bays)}


def _clear(step: NeededStep, done: Done, history: History) -> list[tuple[str, int]]:
    """Air spaces in which a done step may have left vapour, with the first slot at which it is gone."""
    found = []
    dried = history.ready_after_min(done.step, step.method.dry_min)
    for c, group in enumerate(history.climates.classes):
        if group.air_space is not None and (done.bay_id is None or done.bay_id in group.bays):
            film = step.film
            tack_free = history.cured(done.step, c, film.product_id, "tack_free") if film else 0
            found.append((group.air_space, max(dried, tack_free)))
    return found
