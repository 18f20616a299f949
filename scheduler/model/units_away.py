"""Rule units_away: a customer never has more units away than it can spare."""

from scheduler.model.pools import add_presence
from scheduler.model.variables import Variables


def units_away(v: Variables) -> None:
    """Count the units of an order from pick-up to hand-over."""
    add_presence(v, "units_away")
