"""Rule gun_sessions: no more guns than there are, with time to change over."""

from scheduler.model.pools import add_pools
from scheduler.model.variables import Variables


def gun_sessions(v: Variables) -> None:
    """Add the capacities of the rule."""
    add_pools(v, "gun_sessions")
