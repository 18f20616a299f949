"""Rule step_order: the steps of a unit follow each other in the technical order."""

from scheduler.model.variables import Variables
from scheduler.model.waits import add_waits


def step_order(v: Variables) -> None:
    """Chain each unit's steps; other networks give their order as lags."""
    for path in v.net.paths:
        for i in range(path.first, path.last):
            v.model.add(v.start[i + 1] >= v.end(i))
    add_waits(v, "step_order")
