"""Rule release: no work before the unit is available, and it leaves when it must."""

from scheduler.model.variables import Variables
from scheduler.model.windows import narrow


def release(v: Variables) -> None:
    """Narrow the starts."""
    narrow(v, "release")
