"""Rule lifting: gear that can lift the unit is free for every move."""

from scheduler.model.assignment import assign
from scheduler.model.variables import Variables


def lifting(v: Variables) -> None:
    """Assign lifts."""
    assign(v, people=False)
