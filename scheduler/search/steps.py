"""The network as insertion reads it: each unit's steps in order with all that can be worked out beforehand."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from scheduler.activities.network import Activity, Curve, Path
from scheduler.search.stay_length import StayLength

YARD = 0
Leads = tuple[tuple[int, Mapping[int, Curve]], ...]
Group = tuple[tuple[int, ...], int]


class Wait(NamedTuple):
    """A wait that ends at a step: ``first`` is the offset in the route at which it begins."""

    first: int
    earliest: Mapping[int, Curve]
    latest: Mapping[int, Curve]


@dataclass(frozen=True, slots=True)
class Use:
    """What a step takes of a pool, in the pool's unit: ``length`` slots from its start on."""

    pool: int
    amount: int
    length: int


@dataclass(frozen=True, slots=True)
class Step:
    """One activity of a route.

    Attributes
    ----------
    starts : Mapping[int, int]
        By bay class the slots at which it may start and the unit's other steps still keep to their waits.
    needs : tuple of (skill, workers)
        Each person it needs: who has the skill, the least versatile first.
    groups : tuple of (workers, count)
        For each group of its skills who has one of them, and how many people the group needs in all.
    leads : tuple of (offset, earliest)
        Steps that have to wait for this one.
    run : int
        Key of the runs that it needs in :class:`~scheduler.search.hours.Hours`.
    crew_key : int
        The same number for steps that need the same people for as long.
    curved : bool
        Whether something that depends on its start has to be looked at: loading the warmer, vapour that clears.
    """

    index: int
    offset: int
    activity: Activity
    slots: int
    starts: Mapping[int, int]
    needs: tuple[tuple[str, tuple[int, ...]], ...]
    groups: tuple[Group, ...]
    run: int
    crew_key: int
    uses: tuple[Use, ...]
    waits: tuple[Wait, ...]
    leads: Leads
    load: Curve | None
    packs: int
    curved: bool


@dataclass(frozen=True, slots=True)
class Segment:
    """Steps ``first .. last`` of a route in one bay, or one step in the yard (``stay`` below 0).

    ``least`` slots are what they take even without a wait, so no shorter gap between other units' stays is worth a try;
    ``length`` knows what they take with their waits.
    """

    first: int
    last: int
    stay: int
    classes: tuple[int, ...]
    begun: bool
    least: int
    length: StayLength


@dataclass(frozen=True, slots=True)
class Route:
    """The steps of a path; ``body`` is the first one that is not a pick-up as late as possible.

    ``pickup_waits`` are the waits that begin at such a pick-up, by the offset at which they end.
    """

    number: int
    path: Path
    steps: tuple[Step, ...]
    segments: tuple[Segment, ...]
    segment_of: tuple[int, ...]
    body: int
    pickup_waits: tuple[tuple[int, Wait], ...]
