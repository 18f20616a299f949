"""Rule air_supply: tools that run together stay within mean and peak air, and within their own number."""

from scheduler.model.pools import add_pools
from scheduler.model.variables import Variables


def air_supply(v: Variables) -> None:
    """Add the capacities of the rule."""
    add_pools(v, "air_supply")
