"""Rule return_to_service: no hand-over before the coating is fit for service."""

from scheduler.model.variables import Variables
from scheduler.model.waits import add_waits


def return_to_service(v: Variables) -> None:
    """Add the waits of the rule."""
    add_waits(v, "return_to_service")
