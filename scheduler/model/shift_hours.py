"""Rule shift_hours: attended work in shifts; a step that may not pause is in one piece; nothing is done in a bay that is shut."""

from scheduler.activities.masks import below, bits
from scheduler.activities.network import Mask
from scheduler.model.variables import Variables
from scheduler.model.windows import narrow


def shift_hours(v: Variables) -> None:
    """Narrow the starts to unbroken working time; absences and shut bays are kept by their own intervals."""
    narrow(v, "shift_hours")


def gaps(mask: Mask, slots: int) -> list[tuple[int, int]]:
    """Stretches of slots that are not in the mask."""
    missing = below(slots) & ~mask
    edges = bits(missing ^ (missing << 1))
    return list(zip(edges[::2], edges[1::2], strict=True))
