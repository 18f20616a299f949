"""Rule done_work: what is left follows what has been done."""

from scheduler.model.variables import Variables
from scheduler.model.windows import narrow


def done_work(v: Variables) -> None:
    """Narrow the starts."""
    narrow(v, "done_work")
