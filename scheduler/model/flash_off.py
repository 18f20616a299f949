"""Rule flash_off: water has dried and solvent has left before the next step."""

from scheduler.model.variables import Variables
from scheduler.model.waits import add_waits


def flash_off(v: Variables) -> None:
    """Add the waits of the rule."""
    add_waits(v, "flash_off")
