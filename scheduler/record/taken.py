"""Material of a step as it is planned."""

from scheduler.record.events import Taken
from scheduler.schedule.schedule import Work


def taken_from_plan(work: Work | None) -> tuple[Taken, ...]:
    """Material of a step as it is planned."""
    if work is None:
        return ()
    return tuple(
        Taken(
            cartridge_id=draw.cartridge_id,
            lot_id=draw.lot_id,
            opens=draw.begins == "opened",
            taken_ml=draw.purge_ml + draw.sprayed_ml,
            left_ml=draw.left_ml,
        )
        for draw in work.draws
    )
