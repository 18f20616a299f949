"""Where the units stand by what was reported: bays that hold more than they have places for, or what is not done there."""

from collections.abc import Iterator

from scheduler.record.desk import Desk
from scheduler.record.events import Doing
from scheduler.record.report import Objection
from scheduler.shop.methods import Step
from scheduler.shop.rework_needs import stay_at


def wrong_place(before: Desk, after: Desk, event: Doing) -> Iterator[Objection]:
    """Yield why a step cannot have been done in the bay that is reported.

    Parameters
    ----------
    before, after : Desk
        Without the event and with it.
    """
    bay = after.shop.bay_by_id.get(event.bay_id or "")
    if bay is None:
        return
    stage = stay_at(after.needs_of(event.unit_id), event.step)
    if stage and not bay.takes(stage):
        allowed = [row.bay_id for row in after.shop.bays if row.takes(stage)]
        yield Objection("--bay", bay.bay_id, f"{stage} is not done there", f"use {' or '.join(allowed)}")
    if not event.step.startswith(Step.MOVE_IN):
        return
    there, were = _in_bay(after, bay.bay_id), _in_bay(before, bay.bay_id)
    if len(there) > max(bay.places, len(were)):
        others = sorted(there - {event.unit_id})
        problem = f"it has room for {bay.places}, and {' and '.join(others)} {'is' if len(others) == 1 else 'are'} there"
        yield Objection("--bay", bay.bay_id, problem, "record first which of them was moved out, or name another bay")


def _in_bay(desk: Desk, bay_id: str) -> set[str]:
    """Units that came into a bay and have not left it."""
    return {unit.unit_id for unit in desk.shop.units if bay_id in desk.unit_now(unit.unit_id).bays}
