"""How a step is in the way of its own unit: steps are looked for one by one, and what one holds may outlast it."""

from bisect import bisect_right
from typing import NamedTuple

from scheduler.activities.masks import highest, span
from scheduler.search.holding import Holding
from scheduler.search.state import State
from scheduler.search.steps import Step


class OwnClash(NamedTuple):
    """The rule by which a step is in its own unit's way, and the first slot at which it may no longer be."""

    rule: str
    until: int


def own_clash(state: State, held: Holding, step: Step, start: int, bay_class: int) -> OwnClash | None:
    """Whether a step at ``start`` is in the way of what the unit's steps before it still hold.

    Parameters
    ----------
    state : State
        Without the unit.
    held : Holding
        What the steps before it hold.
    step : Step
    start, bay_class : int
    """
    warmer = state.net.warmer
    for use in step.uses:
        if held.taken.get(use.pool, 0).bit_length() > start:
            mask = span(start, start + use.length)
            if _too_much(state, held, use.pool, use.amount, mask):
                return OwnClash(state.net.pools[use.pool].rule, start + 1)
    if step.load is not None and warmer is not None:
        clash = _too_much(state, held, warmer, step.packs, span(step.load[start], start + step.slots))
        if clash:
            return OwnClash("warm_cartridges", max(bisect_right(step.load, highest(clash)), start + 1))
    if step.activity.emits_dust:
        clash = held.vapour.get(state.space_of[bay_class], 0) & span(start, start + step.slots)
        return OwnClash("air_space", highest(clash) + 1) if clash else None
    return None


def _too_much(state: State, held: Holding, pool: int, amount: int, mask: int) -> int:
    """Slots of a mask in which a pool does not have enough beside what the unit holds of it."""
    if not held.taken.get(pool, 0) & mask:
        return 0
    planes = state.pools[pool]
    for other, n, used in held.uses():
        if other == pool:
            planes = planes.plus(used, n)
    return planes.blocked(amount) & mask
