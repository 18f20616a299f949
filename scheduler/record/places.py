"""Where the units stand by what was reported: bays that hold more than they have places for, or what is not done there."""

from collections.abc import Iterator, Mapping

from scheduler.record.desk import Desk
from scheduler.record.events import Doing
from scheduler.record.report import Objection
from scheduler.shop.methods import Step
from scheduler.shop.need import Need
from scheduler.shop.needs import needs_of


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
    stage = _stage({need.name: need for need in needs_of(after.shop, event.unit_id)}, event.step)
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
    found: set[str] = set()
    for unit in desk.shop_now.units:
        done = [row for row in desk.shop_now.done if row.unit_id == unit.unit_id]
        if not any(row.bay_id == bay_id for row in done):
            continue
        needs = {need.name: need for need in needs_of(desk.shop_now, unit.unit_id)}
        left = {_stage(needs, row.step) for row in done if needs[row.step].step is Step.MOVE_OUT and row.ended_at <= desk.now}
        if any(row.bay_id == bay_id and _stage(needs, row.step) not in left for row in done):
            found.add(unit.unit_id)
    return found


def _stage(needs: Mapping[str, Need], step: str) -> str:
    """Stage of a step: that of the stay in which it is done; a move says it in its name, the yard has none."""
    stage = ""
    for name, need in needs.items():
        if need.step is Step.MOVE_IN:
            stage = name.partition("-")[2]
        if name == step:
            return "" if need.step in {Step.RECEIVE, Step.DISPATCH} else stage
    return ""
