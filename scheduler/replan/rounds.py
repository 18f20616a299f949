"""Rounds of a repair: some units first, then all that can stand where they were told, then what is missing."""

from collections.abc import Callable, Iterator
from itertools import combinations

from scheduler.activities.network import Network, Path
from scheduler.activities.reread import whole
from scheduler.replan.obstacles import Obstacle
from scheduler.replan.stand import Stander, stand_all
from scheduler.search.state import State

NEAREST = 12
"""Mates that are tried, alone and in pairs, before a unit that does not fit is left for another round."""
FAR_DAYS = 14
"""Units that come no sooner stand before all others, once for all rounds: they are hardly ever in the way of what is here,
but they may hold packs that it needs."""


class Rounds:
    """Puts all units of a shop in, round after round.

    Parameters
    ----------
    stander : Stander
        With an empty state.

    Attributes
    ----------
    fallen : dict of str to Obstacle
        Units that could not stand in the last round, and what keeps them from it.
    bumped : list of str
        Units that made room for others in the last round.
    """

    def __init__(self, stander: Stander) -> None:
        self.stander, self.inserter = stander, stander.inserter
        self.net, self.told = stander.net, stander.told
        self.standing = [path for path in self.net.paths if whole(path, self.told)]
        self.urgency = _urgency(self.net)
        self.far = {path.unit for path in self.standing if self._is_far(path)}
        self.far_fallen = stand_all(stander, (path for path in self.standing if path.unit in self.far))
        self.mark = self.state.save()
        self.fallen, self.bumped = dict[str, Obstacle](), list[str]()

    @property
    def state(self) -> State:
        """The shop as the last round has filled it."""
        return self.inserter.state

    def run(self, first: list[Path]) -> list[Path]:
        """Go one round.

        Returns
        -------
        list of Path
            Units for which there is no room, the most urgent first: one that is to go first, or some on the site, or one that
            is to come. The round ends with them. Empty if all are in.
        """
        late = self._round(first)
        if late and self.far and (late[0] in first[:1] or not late[0].since_start):
            self._bring_near()
            late = self._round(first)
        return late

    def _bring_near(self) -> None:
        """Let units that are to come much later wait for their turn after all."""
        self.far, self.far_fallen, self.mark = set(), {}, 0

    def _round(self, first: list[Path]) -> list[Path]:
        self.state.restore(self.mark)
        self.bumped = []
        for path in first:
            if not self.inserter.insert(path):
                return [path]
        ahead = {path.unit for path in first}
        standing = [path for path in self.standing if path.unit not in ahead | self.far]
        self.fallen = {**stand_all(self.stander, standing), **self.far_fallen}
        kept = ({path.unit for path in standing} | self.far) - set(self.fallen)
        return self._put_in([path for path in self.net.paths if path.unit not in kept | ahead])

    def _put_in(self, missing: list[Path]) -> list[Path]:
        late = list[Path]()
        for path in sorted(missing, key=self.urgency):
            if late and not path.since_start:
                break
            if not self.inserter.insert(path) and not self._make_room(path):
                late.append(path)
        return late

    def _is_far(self, path: Path) -> bool:
        day, start = self.net.day, self.told.start[path.first]
        return not path.since_start and start < len(day) and day[start] - day[0] >= FAR_DAYS

    def _make_room(self, path: Path) -> bool:
        """Take out one or two units that are in at about the same time, put ``path`` in, then them again."""
        near = self._nearest(path)
        if not self._exchange(near, path, ()):
            return False  # not even with all of them out
        return any(self._exchange(mates, path, mates) for mates in _ones_and_twos(near))

    def _exchange(self, out: tuple[Path, ...], path: Path, back: tuple[Path, ...]) -> bool:
        saved = self.state.save()
        for mate in out:
            self.inserter.remove(mate)
        fits = self.inserter.insert(path) and all(self.inserter.insert(mate) for mate in back)
        if fits and back:
            self.bumped += [mate.unit for mate in back]
        else:
            self.state.restore(saved)
        return fits

    def _nearest(self, path: Path) -> tuple[Path, ...]:
        start, present = self.state.start, self.state.present
        there = [p for p in self.net.paths if p.unit in present and p.unit != path.unit]
        wanted = max(self.told.start[path.first], 0)
        return tuple(sorted(there, key=lambda p: (p.since_start, abs(start[p.first] - wanted)))[:NEAREST])


def _ones_and_twos(paths: tuple[Path, ...]) -> Iterator[tuple[Path, ...]]:
    for count in (1, 2):
        yield from combinations(paths, count)


def _urgency(net: Network) -> Callable[[Path], tuple[float, ...]]:
    """What is on the site first, of it what can wait the least, then by due date, the weightier first."""
    due_of = {due.order: due for due in net.dues}

    def key(path: Path) -> tuple[float, ...]:
        due = due_of.get(path.order)
        late_from = next((e for e, days in enumerate(due.late) if days > 0), net.slots) if due else net.slots
        return (not path.since_start, _last_start(net, path), late_from, -(due.weight if due else 0), path.first)

    return key


def _last_start(net: Network, path: Path) -> int:
    """Slot by which some step of a unit on the site must have begun, such as its next coat; a unit to come can wait."""
    if not path.since_start:
        return net.slots
    return min(max(mask.bit_length() for mask in net.activities[i].starts.values()) for i in range(path.first, path.last + 1))
