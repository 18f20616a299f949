"""What a schedule states of its search: goals beside their bounds, and where it comes from."""

import resource
from datetime import UTC, datetime
from importlib.metadata import PackageNotFoundError, version
from typing import Final

from scheduler.activities.build import Built
from scheduler.material.entries import PPM
from scheduler.schedule.schedule import GoalValue, Provenance, Status
from scheduler.search.outcome import Bounds, Outcome
from scheduler.search.settings import Settings
from scheduler.search.value import GOALS
from scheduler.shop.input_hash import input_hash
from scheduler.shop.methods import Step
from scheduler.shop.shop import Shop

GOAL_UNITS: Final = {"lateness": "weighted days", "material": "packs", "cost": "money", "finish": "unit days", "even_load": "min"}
UNBOUNDED: Final = ("cost", "even_load")
"""Goals of which no more is known than that they cannot be below nothing."""


def provenance(shop: Shop, outcome: Outcome, settings: Settings) -> Provenance:
    """Where a schedule comes from; status and gap are still those of the search."""
    goal = settings.order[0]
    first, bound = getattr(outcome.value, GOALS[goal], 0), outcome.bounds.of(goal)
    first_s = outcome.first_schedule_s
    return Provenance(
        made_at=datetime.now(UTC).replace(microsecond=0),
        coatrun_version=_version("coatrun"),
        solver=f"ortools {_version('ortools')}",
        input_hash=input_hash(shop),
        seed=settings.seed,
        workers=settings.workers,
        status=outcome.status,
        gap=round((first - bound) / max(first, 1), 6),
        first_schedule_s=None if first_s is None else round(first_s, 4),
        search_s=round(outcome.search_s, 3),
        peak_memory_mb=round(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024, 1),
        found_by=outcome.found_by,
        progress=outcome.progress,
    )


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return "not installed"


def goals_beside_bounds(
    shop: Shop, built: Built, outcome: Outcome, measured: dict[str, float], settings: Settings
) -> tuple[GoalValue, ...]:
    """Goals as the checker measured them, each beside the bound that the search can vouch for."""
    bounds = goal_bounds(shop, built, outcome.bounds)
    rows = []
    for name in settings.order:
        value, bound, unit = measured.get(name, 0.0), bounds[name], GOAL_UNITS[name]
        proven = value <= bound + 1e-9
        known = None if name in UNBOUNDED and not proven else bound
        rows.append(GoalValue(name=name, value=value, bound=known, unit=unit, proven=proven))
    return tuple(rows)


def goal_bounds(shop: Shop, built: Built, bounds: Bounds) -> dict[str, float]:
    """Bounds in the units of the goals; cost and uneven load cannot be below nothing.

    Units that were handed back before the plan count in the finish as they were.
    """
    ends = [built.grid.end_of(end) for end in bounds.ends]
    ends += [done.ended_at for done in shop.done if done.step == Step.DISPATCH]
    finish = sum(end.timestamp() - shop.site.plan_from.timestamp() for end in ends) / 86_400
    packs = round(bounds.spent_ppm / PPM, 3)
    return {"lateness": bounds.lateness, "material": packs, "cost": 0.0, "finish": round(finish, 2), "even_load": 0.0}


def as_measured(provenance: Provenance, first: GoalValue) -> Provenance:
    """Put in status and gap by the first goal as it was measured: the search counts leftovers that may find no warmer slot."""
    gap = round((first.value - (first.bound or 0.0)) / max(first.value, 1.0), 6)
    proven = Status.OPTIMAL if first.proven else Status.FEASIBLE
    has_answer = provenance.status in (Status.OPTIMAL, Status.FEASIBLE)
    return provenance.model_copy(update={"gap": gap, "status": proven if has_answer else provenance.status})
