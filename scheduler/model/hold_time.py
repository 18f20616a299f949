"""Rule hold_time: abraded steel gets its first film before it flash rusts or gets dirty."""

from scheduler.model.variables import Variables
from scheduler.model.waits import add_waits


def hold_time(v: Variables) -> None:
    """Add the waits of the rule."""
    add_waits(v, "hold_time")
