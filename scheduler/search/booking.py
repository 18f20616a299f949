"""Name people and packs for a unit whose steps have been given starts, and enter it."""

from collections.abc import Sequence

from scheduler.activities.masks import span
from scheduler.search.crew_choice import Crew, choose, slots_by_day
from scheduler.search.holding import Holding
from scheduler.search.openings import vapour_until
from scheduler.search.own_clash import OwnClash, own_clash
from scheduler.search.state import State
from scheduler.search.steps import Route, Step
from scheduler.search.stock_choice import Draws, draw, next_arrival
from scheduler.search.taking import add_up, put_in


class Booking:
    """A unit on its way into a state.

    The steps of a unit were looked for one by one; here they meet, with each other and with the stock.

    Parameters
    ----------
    state : State
    route : Route
    at : sequence of int
        Start of each step.
    classes : sequence of int
        Bay class of each step.
    """

    def __init__(self, state: State, route: Route, at: Sequence[int], classes: Sequence[int]) -> None:
        self.state, self.route, self.at, self.classes = state, route, at, classes
        self.held = Holding()
        self.crew: list[Crew] = []
        self.draws: list[Draws] = []

    def name(self) -> tuple[int, int] | None:
        """Find people and packs for every step.

        Returns
        -------
        (offset, slot) or None
            A step that does not work out, and the next start that it may be given; None if all is well.
        """
        state, at, worn = self.state, self.at, self.held.worn
        for step in self.route.steps:
            start = at[step.offset]
            clash = self.own_clash(step, start)
            if clash is not None:
                return step.offset, clash.until
            crew = choose(state, step, start, worn)
            if crew is None:
                return step.offset, self._next_staffed(step, start)
            drawn = draw(state, step.activity, start) if step.activity.product else ()
            if drawn is None:
                arrival = next_arrival(state, step.activity, start)
                return step.offset, state.net.slots if arrival is None else arrival
            self.add(step, crew, drawn)
        return None

    def add(self, step: Step, crew: Crew, draws: Draws) -> None:
        """Add a step with the people and packs chosen for it."""
        self.crew.append(crew)
        self.draws.append(draws)
        state, held = self.state, self.held
        for source, packs in draws:
            state.put(state.left_ul, source, state.left_ul[source] - packs)
        start = self.at[step.offset]
        end = start + step.slots
        for worker, _ in crew:
            held.runs.append((worker, start, end))
        if step.activity.respirator:
            self._wear(step, start, crew)
        for use in step.uses:
            mask = ((1 << use.length) - 1) << start
            held.take(use.pool, use.amount, mask if start + use.length <= state.net.slots else mask & state.full)
        if step.load is not None and state.net.warmer is not None:
            held.take(state.net.warmer, step.packs, span(step.load[start], end))
        if step.activity.emits_dust or step.activity.emits_vapour:
            self._fill_air(step, start)

    def _wear(self, step: Step, start: int, crew: Crew) -> None:
        """Count hours under a respirator."""
        for day, n in slots_by_day(self.state, start, step.slots).items():
            for worker, _ in crew:
                worn = self.held.worn.setdefault(worker, {})
                worn[day] = worn.get(day, 0) + n

    def _fill_air(self, step: Step, start: int) -> None:
        c = self.classes[step.offset]
        space, end = self.state.space_of[c], start + step.slots
        if space < 0:
            return
        if step.activity.emits_dust:
            self.held.dust[space] = self.held.dust.get(space, 0) | span(start, end)
        elif step.activity.emits_vapour:
            mask = span(start, vapour_until(self.state, step, c, end))
            self.held.vapour[space] = self.held.vapour.get(space, 0) | mask

    def own_clash(self, step: Step, start: int) -> OwnClash | None:
        """Whether a step is in the way of what the unit's steps before it still hold."""
        return own_clash(self.state, self.held, step, start, self.classes[step.offset])

    def _next_staffed(self, step: Step, start: int) -> int:
        """Next start in the same day at which people are found who have hours under a respirator left, or the next day's."""
        day = self.state.net.day
        for slot in range(start + 1, self.state.net.slots - step.slots + 1):
            if day[slot] != day[start] or choose(self.state, step, slot, self.held.worn) is not None:
                return slot
        return self.state.net.slots

    def enter(self) -> None:
        """Enter the unit into the state."""
        state, here = self.state, slice(self.route.path.first, self.route.path.last + 1)
        state.put_all(state.crew, here, self.crew)
        state.put_all(state.draws, here, self.draws)
        put_in(state, self.route, self.finish(), self.at, self.classes)

    def finish(self) -> Holding:
        """Add places and presence to what the steps take, and work out what changes with it."""
        state, path = self.state, self.route.path
        for segment in self.route.segments:
            if segment.stay >= 0:
                c, last = self.classes[segment.first], self.route.steps[segment.last]
                begin = 0 if segment.begun else self.at[segment.first]
                self.held.bays.append((c, span(begin, self.at[segment.last] + last.slots)))
        begin = 0 if path.since_start else self.at[0]
        presence = span(begin, self.at[-1] + self.route.steps[-1].slots)
        for pool in path.present:
            self.held.take(pool, 1, presence)
        add_up(state, self.held)
        return self.held
