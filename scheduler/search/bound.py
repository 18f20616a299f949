"""Bounds that hold for every schedule: each unit on its own, each product on its own."""

from itertools import product as combinations_of

from scheduler.activities.ledger_input import begun_of
from scheduler.activities.masks import lowest
from scheduler.activities.network import Due, Lag, Network, Path
from scheduler.material.bound import least_of_all
from scheduler.material.pack import at_most_ul
from scheduler.search.outcome import Bounds


def quick_bounds(net: Network) -> Bounds:
    """Bounds from units that have the shop to themselves and from products whose packs are all used up."""
    ends = {path.last: earliest_end(net, path, lags) for path, lags in _lags_by_path(net)}
    lateness = sum(_late(due, ends) for due in net.dues)
    return Bounds(lateness, least_spent(net), tuple(ends[path.last] for path in net.paths))


def _late(due: Due, ends: dict[int, int]) -> int:
    days = [due.late[ends[i]] for i in due.members] + list(due.settled)
    if not days:
        return 0
    return due.weight * (max(days) if due.together else sum(days))


def _lags_by_path(net: Network) -> list[tuple[Path, list[Lag]]]:
    owner = {i: p for p, path in enumerate(net.paths) for i in range(path.first, path.last + 1)}
    found: list[list[Lag]] = [[] for _ in net.paths]
    for lag in net.lags:
        if owner[lag.first] == owner[lag.then]:
            found[owner[lag.then]].append(lag)
    return list(zip(net.paths, found, strict=True))


def earliest_end(net: Network, path: Path, lags: list[Lag]) -> int:
    """Earliest end of a unit's last step when nothing else is in the shop.

    Only windows and waits count. Both are monotone, so raising every start to the least value that its windows and
    waits allow, until nothing moves, gives the earliest start of every step at once; over all choices of bay classes
    with a climate of their own the least end is the bound. Capacity, people and material are left out, which can only
    make it smaller.

    Returns
    -------
    int
        Slot before which the last step ends at the earliest; the end of the horizon if it cannot end at all.
    """
    choices = [_one_a_climate(net, k) for k in path.stays]
    ends = [_end_in(net, path, lags, dict(zip(path.stays, classes, strict=True))) for classes in combinations_of(*choices)]
    return min(ends, default=net.slots)


def _one_a_climate(net: Network, stay: int) -> list[int]:
    """One class of those that have the same weather and the same windows; the masks of most are the same objects already."""
    tables = [net.activities[i].starts for i in range(net.stays[stay].first, net.stays[stay].last + 1)]
    seen: dict[tuple[str, tuple[int, ...]], int] = {}
    read: set[tuple[str, tuple[int, ...]]] = set()
    for c in net.stays[stay].classes:
        same = (net.classes[c].climate, tuple([id(table.get(c)) for table in tables]))
        if same in read:
            continue
        read.add(same)
        windows = tuple([table.get(c, 0) for table in tables])
        seen.setdefault((net.classes[c].climate, windows), c)
    return list(seen.values())


def _end_in(net: Network, path: Path, lags: list[Lag], classes: dict[int, int]) -> int:
    start = dict.fromkeys(range(path.first, path.last + 1), 0)
    at = {i: classes.get(net.activities[i].stay, 0) for i in start}
    moved = True
    while moved:
        moved = False
        for i in start:
            least = _least(net, lags, start, at, i, path)
            if least >= net.slots:
                return net.slots
            moved, start[i] = moved or least > start[i], max(least, start[i])
    return start[path.last] + net.activities[path.last].slots


def _least(net: Network, lags: list[Lag], start: dict[int, int], at: dict[int, int], i: int, path: Path) -> int:
    least = start[i]
    if i > path.first:
        least = max(least, start[i - 1] + net.activities[i - 1].slots)
    for lag in lags:
        if lag.then == i and at[lag.first] in lag.earliest:
            least = max(least, lag.earliest[at[lag.first]][start[lag.first] + net.activities[lag.first].slots])
        if lag.first == i and at[i] in lag.latest:
            curve, end = lag.latest[at[i]], least + net.activities[i].slots
            while end <= net.slots and curve[end] < start[lag.then]:
                end += 1
            least = end - net.activities[i].slots
    mask = net.activities[i].starts.get(at[i], 0) >> least if least < net.slots else 0
    return least + lowest(mask) if mask else net.slots


def least_spent(net: Network) -> int:
    """Least that any solution spends on packs and purges, in millionths of a pack."""
    films = [(a.product, at_most_ul(a.volume_ml)) for a in net.activities if a.product]
    return sum(least.spent_ppm for least in least_of_all(films, net.sheets, begun_of(net)).values())
