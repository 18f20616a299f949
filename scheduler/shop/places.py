"""Places that a person may have meant when there is none of the name that they typed."""

from collections.abc import Callable
from pathlib import Path

from scheduler.shop.faults import nearest


def similar_place(place: Path, fits: Callable[[Path], bool]) -> Path | None:
    """Return the place beside a missing one whose name is nearly the same; None if there is none that fits.

    Parameters
    ----------
    place : Path
        Not there.
    fits : callable
        Whether a place is of the kind that is looked for.
    """
    try:
        there = {path.name: path for path in sorted(place.parent.iterdir()) if fits(path)}
    except OSError:
        return None
    meant = nearest(place.name, there)
    return None if meant is None else there[meant]
