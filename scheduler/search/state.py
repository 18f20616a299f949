"""What is in use when: the mutable picture that insertion reads and writes, with exact undo."""

from itertools import combinations

from scheduler.activities.masks import below, runs, span
from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.search.planes import Planes

UNPLACED = -1
CrewNeed = tuple[tuple[str, int], ...]


class State:
    """A partial solution of a network and the resources that it takes.

    Attributes
    ----------
    start, bay_class, crew, draws : list
        As in :class:`~scheduler.activities.placed.Placed`; ``UNPLACED`` where nothing is placed.
    free : list of int
        Mask of free slots of each worker.
    runs_of : list of dict
        For each worker what :meth:`worker_starts` has worked out, by length (negative with respirator hours).
    """

    def __init__(self, net: Network) -> None:
        self.net = net
        self.full = below(net.slots)
        self.start = [UNPLACED] * len(net.activities)
        self.bay_class = [UNPLACED] * len(net.stays)
        self.crew: list[tuple[tuple[int, str], ...]] = [()] * len(net.activities)
        self.draws: list[tuple[tuple[int, int], ...]] = [()] * len(net.activities)
        self.free = [w.free for w in net.workers]
        self.work = [0] * len(net.workers)
        self.present: set[str] = set()
        self.overtime = 0
        self.respirator: list[dict[int, int]] = [dict(w.respirator_used) for w in net.workers]
        self.packs_left = [s.packs for s in net.sources]
        self.pools = [self._counter(p.capacity, p.taken) for p in net.pools]
        self.bays = [self._counter(c.places, c.taken) for c in net.classes]
        spaces = {c.air_space for c in net.classes if c.air_space}
        self.dust = {space: Planes(len(net.activities), self.full) for space in spaces}
        self.vapour = {space: Planes(len(net.activities), self.full) for space in spaces}
        self.days = self._days()
        self._day_runs: dict[tuple[int, int], int] = {}
        self.runs_of: list[dict[int, int]] = [{} for _ in net.workers]
        self.versatility = [len(w.skills) for w in net.workers]
        self._skilled: dict[str, tuple[int, ...]] = {}
        self._needs: dict[CrewNeed, list[tuple[tuple[int, ...], int]]] = {}

    def _counter(self, capacity: int, taken: tuple[tuple[int, int, int], ...]) -> Planes:
        planes = Planes(capacity, self.full, sum(amount for _, _, amount in taken))
        for start, end, amount in taken:
            planes.add(span(start, end) & self.full, amount)
        return planes

    def _days(self) -> list[int]:
        masks = [0] * (self.net.day[-1] + 1 if self.net.day else 0)
        for slot, day in enumerate(self.net.day):
            masks[day] |= 1 << slot
        return masks

    def worker_starts(self, worker: int, length: int, *, respirator: bool = False) -> int:
        """Slots from which a worker is free for ``length`` slots.

        With ``respirator``, days on which their hours under it do not suffice are left out as far as the whole stretch
        lies in the day; a stretch over two days is for :func:`scheduler.search.crew_choice.within_respirator` to judge.
        """
        known = self.runs_of[worker]
        key = -length if respirator else length
        found = known.get(key)
        if found is None:
            found = runs(self.free[worker], length)
            if respirator:
                found &= ~self._spent(worker, length)
            known[key] = found
        return found

    def _spent(self, worker: int, length: int) -> int:
        limit, mask = self.net.workers[worker].respirator_slots, 0
        if limit is not None:
            for day, used in self.respirator[worker].items():
                if used + length > limit:
                    mask |= self._within_day(day, length)
        return mask

    def _within_day(self, day: int, length: int) -> int:
        found = self._day_runs.get((day, length))
        if found is None:
            found = self._day_runs[day, length] = runs(self.days[day], length)
        return found

    def breathe(self, worker: int, by_day: dict[int, int], sign: int) -> None:
        """Count hours under a respirator, or take them back."""
        used = self.respirator[worker]
        for day, slots in by_day.items():
            used[day] = used.get(day, 0) + sign * slots
        self.runs_of[worker].clear()

    def take_worker(self, worker: int, mask: int, slots: int) -> None:
        """Book a worker for a stretch."""
        self.free[worker] &= ~mask
        self.work[worker] += slots
        self.runs_of[worker].clear()
        self.overtime += (mask & self.net.overtime.get(worker, 0)).bit_count()

    def give_worker(self, worker: int, mask: int, slots: int) -> None:
        """Undo :meth:`take_worker`."""
        self.free[worker] |= mask
        self.work[worker] -= slots
        self.runs_of[worker].clear()
        self.overtime -= (mask & self.net.overtime.get(worker, 0)).bit_count()

    def subsets(self, crew: CrewNeed) -> list[tuple[tuple[int, ...], int]]:
        """For each group of the needed skills, who has one of them and how many people the group needs in all.

        By Hall's theorem named people can be found for all needs if and only if every group has enough of them.
        """
        if crew not in self._needs:
            groups = [g for size in range(1, len(crew) + 1) for g in combinations(crew, size)]
            self._needs[crew] = [(self._able({skill for skill, _ in g}), sum(n for _, n in g)) for g in groups]
        return self._needs[crew]

    def _able(self, skills: set[str]) -> tuple[int, ...]:
        return tuple(i for i, w in enumerate(self.net.workers) if w.skills & skills)

    def able(self, skill: str) -> tuple[int, ...]:
        """Workers with a skill, the least versatile first."""
        if skill not in self._skilled:
            workers = self.net.workers
            self._skilled[skill] = tuple(sorted(self._able({skill}), key=lambda w: len(workers[w].skills)))
        return self._skilled[skill]

    def placed(self) -> Placed:
        """Return the solution as it stands."""
        return Placed(tuple(self.start), tuple(self.bay_class), tuple(self.crew), tuple(self.draws))

    def save(self) -> tuple[object, ...]:
        """Copy everything that changes; :meth:`restore` takes it back."""
        return (
            self.start.copy(),
            self.bay_class.copy(),
            self.crew.copy(),
            self.draws.copy(),
            self.free.copy(),
            self.work.copy(),
            self.overtime,
            [used.copy() for used in self.respirator],
            self.packs_left.copy(),
            self.present.copy(),
            [planes.planes.copy() for planes in self._counters()],
        )

    def restore(self, saved: tuple[object, ...]) -> None:
        """Go back to a saved state."""
        (
            self.start,
            self.bay_class,
            self.crew,
            self.draws,
            free,
            self.work,
            self.overtime,
            self.respirator,
            self.packs_left,
            self.present,
            planes,
        ) = saved  # type: ignore[assignment]
        for worker, mask in enumerate(free):  # type: ignore[arg-type,var-annotated]
            if mask != self.free[worker]:
                self.runs_of[worker].clear()
        self.free = free  # type: ignore[assignment]
        for counter, old in zip(self._counters(), planes, strict=True):  # type: ignore[call-overload]
            counter.reset(old)

    def _counters(self) -> list[Planes]:
        return [*self.pools, *self.bays, *self.dust.values(), *self.vapour.values()]
