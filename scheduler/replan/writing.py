"""Write a solution out as one of the choices: people given back, checked, with what moves against what people were told."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

from scheduler.activities.build import Built
from scheduler.activities.placed import Placed
from scheduler.pipeline import Plan, checked
from scheduler.replan.moved import moved
from scheduler.replan.same_people import same_people
from scheduler.schedule.changes import Changes, changes
from scheduler.schedule.schedule import Schedule, Status
from scheduler.search.outcome import Bounds, Outcome
from scheduler.search.routes import Routes
from scheduler.search.settings import Settings
from scheduler.search.value import value_of
from scheduler.shop.shop import Shop

REPAIR, FEW, BEST = "repair", "few", "best"
SAYS: Final[Mapping[str, str]] = {
    REPAIR: "repair only: all that still works stays, only what is broken moves",
    FEW: "few changes: within a tenth of the best lateness if a third of its moves suffices, else a unit moves only where that "
    "is worth its price",
    BEST: "best: the goals alone count, whatever moves",
}


@dataclass(frozen=True)
class Choice:
    """One way to go on.

    Attributes
    ----------
    moved : tuple of str
        Units that were told and stand elsewhere now.
    search_s : float
    """

    name: str
    plan: Plan
    changes: Changes
    moved: tuple[str, ...]
    search_s: float


@dataclass(frozen=True)
class Basis:
    """What every choice is written out from.

    Attributes
    ----------
    shop : Shop
        As it stands now.
    built : Built
        Its network.
    told : Placed
        What people were told, on that network.
    earlier : Schedule
        The same as a schedule.
    """

    shop: Shop
    built: Built
    told: Placed
    earlier: Schedule
    bounds: Bounds
    settings: Settings


@dataclass(frozen=True)
class Found:
    """A solution for a choice, and the seconds that were spent on it."""

    name: str
    placed: Placed
    search_s: float


def same_as(choice: Choice, found: Found) -> Choice:
    """Return a choice under another name, where both have come to the same solution."""
    schedule = choice.plan.schedule
    by = schedule.provenance.model_copy(update={"found_by": _found_by(found), "search_s": round(found.search_s, 3)})
    plan = replace(choice.plan, schedule=schedule.model_copy(update={"provenance": by}))
    return replace(choice, name=found.name, plan=plan, search_s=found.search_s)


def _found_by(found: Found) -> str:
    return SAYS[found.name].partition(":")[0]


def write_out(basis: Basis, found: Found, routes: Routes | None = None) -> Choice:
    """Write a choice out and check it.

    Parameters
    ----------
    basis : Basis
    found : Found
    routes : Routes or None
        Of the network, if they are there already.

    Raises
    ------
    NoScheduleError
        If the stock does not go round once every cartridge is named.
    RefusedError
        If the checker refuses it.
    """
    net = basis.built.network
    placed = same_people(net, basis.told, found.placed, routes)
    value, bounds = value_of(net, placed), basis.bounds
    status = Status.OPTIMAL if value.lateness <= bounds.lateness else Status.FEASIBLE
    outcome = Outcome(status, placed, value, bounds, _found_by(found), None, found.search_s)
    made = checked(basis.shop, basis.built, outcome, placed, basis.settings, basis.earlier)
    units = tuple(path.unit for path in moved(basis.told, placed, net.paths))
    return Choice(found.name, made, changes(basis.earlier, made.schedule), units, found.search_s)
