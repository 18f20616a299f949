"""From a schedule back to integers: where everything stands on the network of the shop as it is now.

The inverse of :mod:`scheduler.activities.realise`. A moment becomes the slot that starts then, a name the worker of that
name, a bay the class that holds it. What has no place on the network any more is left out, with the reason.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final

from scheduler.activities.build import Built
from scheduler.activities.network import Activity, Network, Path
from scheduler.activities.placed import Placed
from scheduler.material.pack import at_least_ul
from scheduler.schedule.schedule import Schedule, Work

NOWHERE: Final = -1
YARD: Final = 0


@dataclass(frozen=True, slots=True)
class Reread:
    """What a schedule says, on a network.

    Attributes
    ----------
    placed : Placed
        ``NOWHERE`` for a step or stay that the schedule does not have, or has where there is no slot, bay or worker any more.
    left_out : Mapping of str to str
        Units that are not whole, each with the reason in words; new units are among them.
    new : frozenset of str
        Units of which the schedule has no step.
    """

    placed: Placed
    left_out: Mapping[str, str]
    new: frozenset[str] = frozenset()


class NoPlaceError(ValueError):
    """A step of the schedule has no place on the network."""


@dataclass
class _Reader:
    built: Built
    work: Mapping[str, Work]
    net: Network = field(init=False)
    worker_at: dict[str, int] = field(init=False)
    source_at: dict[str, int] = field(init=False)
    class_of: dict[str, int] = field(init=False)
    slot_at: dict[float, int] = field(init=False)
    _skills: dict[tuple[tuple[str, int], ...], list[str]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.net = self.built.network
        self.worker_at = {w.key: i for i, w in enumerate(self.net.workers)}
        self.source_at = {s.key: i for i, s in enumerate(self.net.sources)}
        self.class_of = {bay: c for c, group in enumerate(self.net.classes) for bay in group.bays}
        self.slot_at = {minutes: slot for slot, minutes in enumerate(self.built.grid.start_min.tolist())}

    def start(self, activity: Activity) -> int:
        """Slot at which a step starts."""
        work = self.work.get(activity.key)
        if work is None:
            msg = f"{activity.name} is work that people were not told of"
            raise NoPlaceError(msg)
        grid, minutes = self.built.grid, self.built.grid.minutes_at(work.start)
        if minutes in self.slot_at:
            return self.slot_at[minutes]
        first, last = int(grid.first_from(minutes)), int(grid.last_until(minutes))
        if first != last:
            when = work.start.astimezone(grid.zone)
            msg = f"nobody works at {when:%Y-%m-%d %H:%M}, when {activity.name} was to start"
            raise NoPlaceError(msg if minutes >= 0 else f"{activity.name} was to start at {when:%Y-%m-%d %H:%M} and is not done")
        return first

    def bay_class(self, k: int) -> int:
        """Class of the bay of a stay."""
        stay = self.net.stays[k]
        work = self.work.get(self.net.activities[stay.first].key)
        found = self.class_of.get(work.bay_id or "", NOWHERE) if work is not None else NOWHERE
        if found not in stay.classes:
            where = f"bay {work.bay_id}" if work is not None and work.bay_id else "the yard"
            msg = f"{where} does not take the unit for {stay.stage}"
            raise NoPlaceError(msg)
        return found

    def crew(self, activity: Activity) -> tuple[tuple[int, str], ...]:
        """Named people and lifts of a step, as many of each skill as it needs."""
        work = self.work[activity.key]
        named = [(p.person_id, p.skill) for p in work.people]
        skills = self._skills.get(activity.crew)
        if skills is None:
            skills = self._skills[activity.crew] = sorted(skill for skill, count in activity.crew for _ in range(count))
        lifts = [skill for skill in skills if skill.startswith("lift")]
        if lifts:
            named += zip((t for t in work.tools if t in self.worker_at), lifts, strict=False)
        if sorted(skill for _, skill in named) != skills:
            msg = f"{activity.name} needs other people"
            raise NoPlaceError(msg)
        for name, skill in named:
            if name not in self.worker_at or skill not in self.net.workers[self.worker_at[name]].skills:
                msg = f"{name} is not there as {skill} for {activity.name}"
                raise NoPlaceError(msg)
        return tuple((self.worker_at[name], skill) for name, skill in named)

    def draws(self, activity: Activity) -> tuple[tuple[int, int], ...]:
        """What a step takes of each source, in microlitres; the first shot of a new pack is not counted there."""
        taken: dict[str, int] = {}
        for draw in self.work[activity.key].draws:
            source = draw.cartridge_id if draw.cartridge_id in self.source_at else draw.lot_id
            purge_ml = 0.0 if draw.begins == "opened" else draw.purge_ml
            taken[source] = taken.get(source, 0) + at_least_ul(draw.sprayed_ml + purge_ml)
        for key in taken:
            if key not in self.source_at:
                msg = f"{key}, drawn for {activity.name}, is not in stock"
                raise NoPlaceError(msg)
        return tuple((self.source_at[key], ul) for key, ul in taken.items())


def reread(built: Built, schedule: Schedule) -> Reread:
    """Find the place of everything in a schedule on a network.

    Parameters
    ----------
    built : Built
        Network of the shop as it stands now; it may begin later than the schedule, with steps done in between.
    schedule : Schedule

    Returns
    -------
    Reread
        A place is not promised to be free or allowed: a rule may have been broken since.
    """
    net, reader = built.network, _Reader(built, {w.work_id: w for w in schedule.work if not w.done})
    start, bays = [NOWHERE] * len(net.activities), [NOWHERE] * len(net.stays)
    crew: list[tuple[tuple[int, str], ...]] = [()] * len(net.activities)
    draws: list[tuple[tuple[int, int], ...]] = [()] * len(net.activities)
    left_out: dict[str, str] = {}
    for path in net.paths:
        faults = []
        for i in range(path.first, path.last + 1):
            try:
                start[i] = reader.start(net.activities[i])
                crew[i], draws[i] = reader.crew(net.activities[i]), reader.draws(net.activities[i])
            except NoPlaceError as fault:
                faults.append(str(fault))
        for k in path.stays:
            try:
                bays[k] = reader.bay_class(k)
            except NoPlaceError as fault:
                faults.append(str(fault))
        if faults:
            left_out[path.unit] = faults[0]
    new = frozenset(_new(net, reader, left_out))
    left_out |= dict.fromkeys(sorted(new), "new: not in the schedule")
    return Reread(Placed(tuple(start), tuple(bays), tuple(crew), tuple(draws)), left_out, new)


def _new(net: Network, reader: _Reader, left_out: Mapping[str, str]) -> Iterator[str]:
    told = {work.unit_id for work in reader.work.values()}
    return (path.unit for path in net.paths if path.unit in left_out and path.unit not in told)


def whole(path: Path, placed: Placed) -> bool:
    """Whether every step and stay of a unit has a place."""
    steps = all(placed.start[i] != NOWHERE for i in range(path.first, path.last + 1))
    return steps and all(placed.bay_class[k] != NOWHERE for k in path.stays)
