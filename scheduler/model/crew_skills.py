"""Rule crew_skills: every attended step has named people with the skill, each in one place at a time."""

from scheduler.model.assignment import assign
from scheduler.model.variables import Variables


def crew_skills(v: Variables) -> None:
    """Assign people."""
    assign(v, people=True)
