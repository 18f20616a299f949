"""Film thicknesses that were measured, beside what the films that are on a unit add up to."""

from typing import Final

from scheduler.activities.routing import route_of
from scheduler.record.desk import Desk

LEAST_SHARE: Final = 0.8
"""Of the nominal thickness that a single reading may fall to, the mean staying above it (ISO 19840, from memory)."""
MOST_TIMES: Final = 3.0
"""Of the nominal thickness that a reading may rise to (ISO 12944-5, from memory)."""


def thickness_words(desk: Desk, unit_id: str, dft_um: tuple[float, ...]) -> str:
    """What readings say of the films so far; where an old coating lies below, a gauge reads both.

    Parameters
    ----------
    dft_um : tuple of float
        Readings, um.
    """
    done = {row.step for row in desk.unit_now(unit_id).done if row.ended_at <= desk.now}
    runs = [run for run in route_of(desk.shop_now, unit_id).films.runs if run.part.area_m2 > 0]
    sums = [sum(um for film, um in zip(run.films, run.dft_um, strict=True) if film in done) for run in runs]
    laid = [um for um in sums if um > 0]
    if not laid:
        return f"no film of {unit_id} is recorded as finished: the reading is of an old coating, or a film is not reported"
    low, high, mean = min(laid), max(laid), sum(dft_um) / len(dft_um)
    planned = f"{low:g} um" if low == high else f"{low:g} to {high:g} um by surface"
    found = [f"{um:g} um is below {LEAST_SHARE:.0%} of it" for um in dft_um if um < LEAST_SHARE * low]
    found += [f"the mean of {mean:.0f} um is below it"] if mean < low else []
    found += [f"{um:g} um is more than {MOST_TIMES:g} times as much" for um in dft_um if um > MOST_TIMES * high]
    says = "; ".join(dict.fromkeys(found)) or f"the mean is {mean:.0f} um, and no reading is far off"
    return f"films of {unit_id} so far are {planned} by plan: {says}"
