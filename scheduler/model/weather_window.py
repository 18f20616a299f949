"""Rule weather_window: the weather allows the step from its start until its film can take it."""

from scheduler.model.variables import Variables
from scheduler.model.windows import narrow


def weather_window(v: Variables) -> None:
    """Narrow the starts."""
    narrow(v, "weather_window")
