"""Which units people find elsewhere than they were told."""

from collections.abc import Iterable

from scheduler.activities.network import Path
from scheduler.activities.placed import Placed


def moved(told: Placed, placed: Placed, paths: Iterable[Path]) -> list[Path]:
    """Units with a step at another time or a stay in another kind of bay than people were told; new units have not moved."""
    return [p for p in paths if any(told.start[i] >= 0 for i in range(p.first, p.last + 1)) and _differs(told, placed, p)]


def _differs(told: Placed, placed: Placed, path: Path) -> bool:
    steps = any(told.start[i] != placed.start[i] for i in range(path.first, path.last + 1))
    return steps or any(told.bay_class[k] != placed.bay_class[k] for k in path.stays)
