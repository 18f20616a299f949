"""Earliest finish of everything: the end of the last step."""

from scheduler.model.variables import Linear, Variables


def makespan(v: Variables) -> Linear:
    """Slot before which the last step ends."""
    last = v.model.new_int_var(0, v.net.slots, "all done")
    for path in v.net.paths:
        v.model.add(last >= v.end(path.last))
    return last
