"""Number the activities of a unit and join them into stays, lags and a path."""

from collections.abc import Iterable, Iterator

from scheduler.activities.network import Activity, Lag, Path, Stay
from scheduler.activities.steps import NeededStep
from scheduler.activities.unit_network import UnitBuilder, UnitNetwork
from scheduler.activities.unit_waits import Wait
from scheduler.shop.methods import Step


def unit_network(builder: UnitBuilder, first: int, first_stay: int, present: tuple[int, ...]) -> UnitNetwork | None:
    """Build the network of a unit whose activities count from ``first``; None if nothing is left to do.

    Parameters
    ----------
    builder : UnitBuilder
    first, first_stay : int
        Numbers of the unit's first activity and first stay.
    present : tuple of int
        Pools in which the unit counts while it is on the site.
    """
    steps = builder.todo()
    if not steps:
        return None
    at = {s.name: first + i for i, s in enumerate(steps)}
    stages = list(dict.fromkeys(s.stage for s in steps if s.stage))
    stay_at = {stage: first_stay + i for i, stage in enumerate(stages)}
    activities = [builder.activity(s, stay_at.get(s.stage, -1)) for s in steps]
    stays = [_stay(builder, stage, steps, activities, first) for stage in stages]
    path = Path(
        unit=builder.unit.unit_id,
        order=builder.unit.order_id,
        first=first,
        last=first + len(steps) - 1,
        stays=tuple(stay_at.values()),
        present=present,
        late_pickup=steps[0].step is Step.RECEIVE and len(steps) > 1,
        since_start=bool(builder.history.done),
    )
    return UnitNetwork(activities, stays, list(_lags(builder.waits(), at)), path)


def _stay(builder: UnitBuilder, stage: str, steps: list[NeededStep], activities: list[Activity], first: int) -> Stay:
    inside = [i for i, s in enumerate(steps) if s.stage == stage]
    classes = builder.classes_of(stage)
    begun = any(s.stage == stage and s.name in builder.history.done for s in builder.route.steps)
    return Stay(activities[0].unit, stage, first + inside[0], first + inside[-1], classes, begun)


def _lags(waits: Iterable[Wait], at: dict[str, int]) -> Iterator[Lag]:
    for wait in waits:
        if wait.first in at and wait.then in at:
            yield Lag(at[wait.first], at[wait.then], wait.rule, wait.earliest, wait.latest)
