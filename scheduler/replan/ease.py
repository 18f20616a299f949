"""One thing that is made easier for a unit, to see what it is worth: what changes in the room, and what in the unit."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from scheduler.replan.extend import UnitPart
from scheduler.replan.room import Room


@dataclass(frozen=True)
class Ease:
    """A relaxation.

    Attributes
    ----------
    rule : str
        Rule that is eased.
    what : str
        Resource that there is one more of, or which wait of the rule; empty where a rule does not count at all.
    says : str
        For a person: what would be different.
    """

    rule: str
    what: str
    says: str
    room: Callable[[Room], Room]
    part: Callable[[UnitPart], UnitPart]


def same_room(room: Room) -> Room:
    """Return the room as it is."""
    return room


def same_part(part: UnitPart) -> UnitPart:
    """Return the unit as it is."""
    return part


def changed(room: Room, **changes: object) -> Room:
    """Return a room with something else in its network."""
    return replace(room, net=replace(room.net, **changes))  # type: ignore[arg-type]
