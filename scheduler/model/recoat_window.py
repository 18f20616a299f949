"""Rule recoat_window: each coat between the minimum and the maximum after the one before."""

from scheduler.model.variables import Variables
from scheduler.model.waits import add_waits


def recoat_window(v: Variables) -> None:
    """Add the waits of the rule."""
    add_waits(v, "recoat_window")
