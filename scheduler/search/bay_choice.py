"""Which class of bays a unit's stay goes into."""

from random import Random

from scheduler.search.chain import NO_ROOM, TOO_LATE, Chain, Jump, NoRoomError
from scheduler.search.steps import YARD, Segment

FIRST_FREE = 0.9


class BayChoice:
    """Places segments into bays.

    Parameters
    ----------
    chain : Chain
    random : Random or None
        With one, a stay goes into one class of bays, mostly the first that is free; without one every class is tried.
    """

    def __init__(self, chain: Chain, random: Random | None) -> None:
        self.chain, self.random = chain, random
        self.settled: dict[int, int] = {}

    def place(self, segment: Segment) -> Jump | None:
        """Place a segment; a jump if a step before it has to move.

        Raises
        ------
        NoRoomError
            If it fits nowhere, or ends too late.
        """
        classes = segment.classes
        if len(classes) == 1:
            return self._go(segment, classes[0])
        if segment.first in self.settled:
            return self._go(segment, self.settled[segment.first])
        if self.random is not None:
            chosen = self._draw(segment, self.random)
            jump = NO_ROOM if chosen is None else self._try(segment, chosen)
            if chosen is not None and jump is not NO_ROOM and jump is not TOO_LATE:
                self.settled[segment.first] = chosen
                return jump
        return self._best(segment)

    def _go(self, segment: Segment, bay_class: int) -> Jump | None:
        jump = self.chain.go(segment, bay_class)
        if jump is NO_ROOM or jump is TOO_LATE:
            raise NoRoomError
        return jump

    def _try(self, segment: Segment, bay_class: int) -> Jump | None:
        """Place a segment; what rose for it is forgotten if it does not fit."""
        low = self.chain.low.copy()
        jump = self.chain.go(segment, bay_class)
        if jump is NO_ROOM or jump is TOO_LATE:
            self.chain.low = low
        return jump

    def _draw(self, segment: Segment, random: Random) -> int | None:
        """Draw a class: mostly the one that is free first, now and then another."""
        opening = self._by_opening(segment)
        if not opening:
            return None
        if random.random() < FIRST_FREE:
            least = opening[0][0]
            return random.choice([c for begin, _, c in opening if begin == least])
        return random.choice(opening)[2]

    def _best(self, segment: Segment) -> Jump | None:
        """Try the classes, the one that is free first first, and keep the one that frees the unit first.

        A class with the climate of one that took the unit as soon as it was free, and free no sooner itself, is left out: it
        would not do better but for what shares its air. One that had to keep the unit waiting, or would send a step before the
        stay back, says nothing of others: they may be free for longer.
        """
        chain, classes = self.chain, self.chain.state.net.classes
        best: tuple[int, int] | None = None
        last = YARD
        jumps: list[Jump] = []
        worked: set[str] = set()
        low = chain.low
        for opens, last_at, c in self._by_opening(segment):
            if best is not None and last_at >= best[0]:
                continue
            if classes[c].climate in worked:
                continue
            chain.low = low.copy()
            jump, last = chain.go(segment, c), c
            if jump is None or jump is TOO_LATE:
                if chain.at[segment.first] <= opens:
                    worked.add(classes[c].climate)
            elif jump is not NO_ROOM:
                jumps.append(jump)
            if jump is None and (best is None or chain.at[segment.last] < best[0]):
                best = (chain.at[segment.last], c)
        if best is not None and best[1] != last:
            chain.low = low.copy()
            chain.go(segment, best[1])
        chain.low = low
        if best is not None:
            return None
        if not jumps:
            raise NoRoomError
        return min(jumps, key=lambda jump: (-jump.at, jump.slot))

    def _by_opening(self, segment: Segment) -> list[tuple[int, int, int]]:
        """Classes that can take the stay in time: slot from which they can, when its last step may start, and the class."""
        chain, found = self.chain, []
        earliest, in_time = chain.bounds(chain.route.steps[segment.first])[0], chain.latest[segment.last]
        for c in segment.classes:
            opening = chain.opening(segment, c, earliest)
            if opening is not None and opening[1] <= in_time:
                found.append((*opening, c))
        return sorted(found)
