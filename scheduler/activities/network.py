"""The activity network: integers only. Slots on the work axis, masks with a bit a slot, curves from slot to slot.

A *curve* is a tuple of ``n + 1`` slots indexed by the slot at which something ends. Because a later end never makes
something ready earlier, every curve is non-decreasing, and that is what insertion, model and bound rely on.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import reduce
from operator import and_

from scheduler.material.pack import PackSheet

Curve = tuple[int, ...]
Mask = int


@dataclass(frozen=True, slots=True)
class Worker:
    """Somebody or something with a name that does one thing at a time: a person, a lift.

    Attributes
    ----------
    skills : frozenset of str
        What it can be asked for.
    free : Mask
        Slots in which it is there.
    respirator_slots : int or None
        Longest time a day under a respirator; None for machines.
    respirator_used : tuple of (day, slots)
        Time under it that is fixed already.
    """

    key: str
    skills: frozenset[str]
    free: Mask
    is_person: bool = True
    respirator_slots: int | None = None
    respirator_used: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Pool:
    """A capacity that activities share; ``taken`` are fixed uses (start, end, amount), such as a closed machine."""

    key: str
    rule: str
    capacity: int
    taken: tuple[tuple[int, int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class BayClass:
    """Bays that are alike in every respect; the yard is a class of its own with no limit of places.

    Classes with the same ``climate`` word have the same weather. No unit is in them but in ``free`` slots, and nothing is done
    in them before the slot ``opens``.
    """

    key: str
    bays: tuple[str, ...]
    places: int
    free: Mask
    air_space: str | None
    climate: str = ""
    taken: tuple[tuple[int, int, int], ...] = ()
    opens: int = 0


@dataclass(frozen=True, slots=True)
class Demand:
    """What an activity takes of a pool while it runs, and for ``tail`` slots after it."""

    pool: int
    amount: int
    tail: int = 0


@dataclass(frozen=True, slots=True)
class Source:
    """Packs that may be drawn from start slot ``first`` on, until work that ends at or before slot ``last``.

    ``begun_ul`` is zero for a lot; for a pack that stands opened it is what is left in it, heel included. ``gives_ul`` is
    what it can put on the work, the purges of its own starts apart.
    """

    key: str
    product: str
    packs: int
    first: int
    last: int
    gives_ul: int = 0
    begun_ul: int = 0
    lot: str = ""
    opened_before: int = 0


WINDOW_RULES = ("bay_fit", "shift_hours", "weather_window", "release", "pinned_work", "done_work")


def meet(windows: Mapping[str, Mapping[int, Mask]]) -> dict[int, Mask]:
    """Slots that every window leaves, by bay class; a class that one of them lacks is out.

    Where the same masks meet in several classes, the result is worked out once and is one object.
    """
    tables = list(windows.values())
    common = set(tables[0]).intersection(*tables[1:]) if tables else set()
    masks: dict[int, Mask] = {}
    known: dict[tuple[int, ...], Mask] = {}
    for c in sorted(common):
        row = [table[c] for table in tables]
        alike = tuple(map(id, row))
        if alike not in known:
            known[alike] = reduce(and_, row)
        masks[c] = known[alike]
    return masks


@dataclass(frozen=True, slots=True)
class Activity:
    """One attended step of a unit.

    Attributes
    ----------
    windows : Mapping[str, Mapping[int, Mask]]
        For each rule that is a matter of when and where alone, the slots at which the step may start by bay class.
    starts : Mapping[int, Mask]
        What all the windows together leave, by bay class.
    crew : tuple of (skill, count)
        Named workers it needs, people and lifts alike.
    emits_dust, emits_vapour : bool
        ``clears`` says for each class from when on the air is free of its vapour.
    load : Curve or None
        For a start slot the last slot at which its cartridges can be put in the warmer; -1 for none.
    """

    key: str
    unit: str
    order: str
    name: str
    stay: int
    slots: int
    windows: Mapping[str, Mapping[int, Mask]]
    starts: Mapping[int, Mask]
    crew: tuple[tuple[str, int], ...] = ()
    demands: tuple[Demand, ...] = ()
    respirator: bool = False
    emits_dust: bool = False
    emits_vapour: bool = False
    clears: Mapping[int, Curve] = field(default_factory=dict)
    product: str | None = None
    volume_ml: float = 0.0
    packs: int = 0
    load: Curve | None = None


@dataclass(frozen=True, slots=True)
class Lag:
    """``then`` starts no earlier than ``earliest[c][end of first]`` and no later than ``latest[c][end of first]``.

    ``c`` is the bay class of the stay of ``first``, whose climate counts. A missing side does not bind.
    """

    first: int
    then: int
    rule: str
    earliest: Mapping[int, Curve] = field(default_factory=dict)
    latest: Mapping[int, Curve] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Stay:
    """A unit in one place of one bay from the start of activity ``first`` to the end of activity ``last``."""

    unit: str
    stage: str
    first: int
    last: int
    classes: tuple[int, ...]
    since_start: bool = False


@dataclass(frozen=True, slots=True)
class Path:
    """A unit's activities ``first .. last``, one after the other.

    ``present`` are the pools in which the unit counts from the start of its first activity to the end of its last one;
    ``since_start`` says that it is there already.
    """

    unit: str
    order: str
    first: int
    last: int
    stays: tuple[int, ...]
    present: tuple[int, ...] = ()
    late_pickup: bool = True
    since_start: bool = False


@dataclass(frozen=True, slots=True)
class Due:
    """Lateness of an order: ``late[e]`` days if delivered by work that ends at ``e``; ``settled`` is history, in days."""

    order: str
    weight: int
    together: bool
    members: tuple[int, ...]
    late: Curve
    settled: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Rent:
    """Hired equipment: a worker (a lift) or the piece of a pool that is needed when ``level`` others are in use."""

    cents_a_day: int
    worker: int = -1
    pool: int = -1
    level: int = 0


@dataclass(frozen=True, slots=True)
class Network:
    """Everything the search needs, and nothing of the trade.

    Attributes
    ----------
    slots : int
        Length ``n`` of the work axis.
    day : tuple of int
        Local day of each slot, counted from 0; non-decreasing.
    sheets : Mapping[str, PackSheet]
        What a pack of each product holds and loses.
    overtime : Mapping[int, Mask]
        For a worker the slots that are overtime.
    warmer : int or None
        Pool of warmer slots.
    """

    slots: int
    day: tuple[int, ...]
    activities: tuple[Activity, ...]
    paths: tuple[Path, ...]
    stays: tuple[Stay, ...]
    lags: tuple[Lag, ...]
    classes: tuple[BayClass, ...]
    workers: tuple[Worker, ...]
    pools: tuple[Pool, ...]
    dues: tuple[Due, ...]
    sources: tuple[Source, ...] = ()
    sheets: Mapping[str, PackSheet] = field(default_factory=dict)
    overtime: Mapping[int, Mask] = field(default_factory=dict)
    warmer: int | None = None
    overtime_cents_a_slot: int = 0
    rents: tuple[Rent, ...] = ()
