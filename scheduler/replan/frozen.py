"""The frozen period: what is to start before its end stays where people were told, people included."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from scheduler.activities.masks import span
from scheduler.activities.network import Activity, Network
from scheduler.activities.placed import Placed

HELD = "pinned_work"


@dataclass(frozen=True)
class Frozen:
    """A network in which steps are held.

    Attributes
    ----------
    net : Network
        The steps of ``held`` have one start and ask for the very people who were told.
    held : frozenset of int
    """

    net: Network
    held: frozenset[int]

    def named(self, placed: Placed) -> Placed:
        """Return a solution of ``net`` with the plain names of skills."""
        crew = list(placed.crew)
        for i in self.held:
            crew[i] = tuple((w, skill.rpartition("\n")[2]) for w, skill in crew[i])
        return replace(placed, crew=tuple(crew))

    def marked(self, placed: Placed) -> Placed:
        """Return a told solution with the names of skills that ``net`` uses."""
        crew = list(placed.crew)
        for i in self.held:
            crew[i] = tuple((w, _own(i, n, skill)) for n, (w, skill) in enumerate(placed.crew[i]))
        return replace(placed, crew=tuple(crew))


def freeze(net: Network, told: Placed, steps: Iterable[int]) -> Frozen:
    """Hold steps where a told solution has them.

    Parameters
    ----------
    net : Network
    told : Placed
    steps : iterable of int
        Activities that may still stand there; each has a place in ``told``.
    """
    held = frozenset(steps)
    activities, workers = list(net.activities), [set(w.skills) for w in net.workers]
    for i in sorted(held):
        activities[i] = _hold(net, told, i)
        for n, (worker, skill) in enumerate(told.crew[i]):
            workers[worker].add(_own(i, n, skill))
    people = tuple(replace(w, skills=frozenset(skills)) for w, skills in zip(net.workers, workers, strict=True))
    return Frozen(replace(net, activities=tuple(activities), workers=people), held)


def _own(i: int, n: int, skill: str) -> str:
    """Name of a skill that one worker alone has, for one step alone."""
    return f"{i}.{n}\n{skill}"


def _hold(net: Network, told: Placed, i: int) -> Activity:
    activity = net.activities[i]
    bay_class = told.bay_class[activity.stay] if activity.stay >= 0 else 0
    slot = span(told.start[i], told.start[i] + 1)
    only = {c: mask & slot if c == bay_class else 0 for c, mask in activity.starts.items()}
    crew = tuple((_own(i, n, skill), 1) for n, (_, skill) in enumerate(told.crew[i]))
    windows = {**activity.windows, HELD: {c: mask & only[c] for c, mask in activity.windows[HELD].items()}}
    return replace(activity, starts=only, windows=windows, crew=crew)
