"""Rule bay_fit: the bay allows the stage and the unit fits in it."""

from scheduler.model.variables import Variables
from scheduler.model.windows import narrow


def bay_fit(v: Variables) -> None:
    """Narrow the starts."""
    narrow(v, "bay_fit")
