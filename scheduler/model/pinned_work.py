"""Rule pinned_work: what a person has fixed starts when they said, where they said."""

from scheduler.model.variables import Variables
from scheduler.model.windows import narrow


def pinned_work(v: Variables) -> None:
    """Narrow the starts."""
    narrow(v, "pinned_work")
