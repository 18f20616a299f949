"""The answer of a search and what it went through."""

from collections.abc import Callable
from dataclasses import dataclass, field

from scheduler.activities.placed import Placed
from scheduler.schedule.schedule import Progress, Status
from scheduler.search.value import Value


@dataclass(frozen=True, slots=True)
class Bounds:
    """No solution is below these.

    Weighted days late, packs and purges in millionths of a pack, and per path the end of its last activity.
    """

    lateness: int
    spent_ppm: int
    ends: tuple[int, ...]

    def of(self, goal: str) -> int:
        """Bound of a goal by its name; cost and uneven load cannot be below nothing."""
        return {"lateness": self.lateness, "material": self.spent_ppm, "finish": sum(self.ends)}.get(goal, 0)


@dataclass(frozen=True, slots=True)
class Clash:
    """Why there is no schedule: what clashes, in words.

    ``fewest`` where it is proven that no fewer orders, and of these no fewer rules, clash.
    """

    orders: tuple[str, ...]
    rules: tuple[str, ...]
    says: str
    fewest: bool = False


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a search found.

    ``status`` is optimal if the goal that counts first is at its bound; each goal after it has a bound of its own.
    """

    status: Status
    placed: Placed | None
    value: Value | None
    bounds: Bounds
    found_by: str
    first_schedule_s: float | None
    search_s: float
    progress: tuple[Progress, ...] = ()
    clash: Clash | None = None


@dataclass(frozen=True, slots=True)
class News:
    """A better solution or bound, for a progress bar; ``so_far`` gives the outcome as if the search ended now."""

    at_s: float
    objective: float | None
    bound: float
    over: float
    goal: str = "lateness"
    so_far: Callable[[], Outcome] | None = None


Listener = Callable[[News], None]


@dataclass
class Journal:
    """The course of a search by the goal that counts first."""

    goal: str = "lateness"
    listener: Listener = lambda _news: None
    rows: list[Progress] = field(default_factory=list)

    def note(
        self, at_s: float, objective: float | None, bound: float, over: float, so_far: Callable[[], Outcome] | None = None
    ) -> None:
        """Write a point down and tell the listener."""
        if objective is not None and (not self.rows or (self.rows[-1].objective, self.rows[-1].bound) != (objective, bound)):
            self.rows.append(Progress(at_s=round(at_s, 3), objective=objective, bound=bound))
        self.listener(News(at_s, objective, bound, over, self.goal, so_far))
