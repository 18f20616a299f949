"""Rule warm_cartridges: every cartridge has a warmer slot from its loading, soak time before use, to the end of the step."""

from scheduler.model.curves import at_most
from scheduler.model.pools import add_capacity
from scheduler.model.variables import Variables


def warm_cartridges(v: Variables) -> None:
    """Load at or before the last slot that leaves the soak time; the axis holds only slots in which someone is there."""
    intervals, amounts = [], []
    for i, activity in enumerate(v.net.activities):
        if activity.load is None or v.net.warmer is None:
            continue
        loaded = v.model.new_int_var(0, v.net.slots, f"{activity.key} loaded")
        # the curve is by start, at_most reads it by end
        curve = (*([-1] * activity.slots), *activity.load)[: v.net.slots + 1]
        at_most(v, loaded, curve, i, [])
        size = v.model.new_int_var(0, v.net.slots, f"{activity.key} warm")
        intervals.append(v.model.new_interval_var(loaded, size, v.end(i), f"{activity.key} in a warmer"))
        amounts.append(activity.packs)
    if v.net.warmer is not None:
        add_capacity(v, v.net.warmer, intervals, amounts)
