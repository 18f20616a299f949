"""Rule dry_to_handle: a unit stays in its bay until it can be moved."""

from scheduler.model.variables import Variables
from scheduler.model.waits import add_waits


def dry_to_handle(v: Variables) -> None:
    """Add the waits of the rule."""
    add_waits(v, "dry_to_handle")
