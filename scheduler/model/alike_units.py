"""Units of an order that are alike in everything can change places: only one of their orders is looked at."""

from collections.abc import Iterator
from itertools import pairwise

from scheduler.activities.network import Activity, Network, Path
from scheduler.model.variables import Variables


def keep_in_order(v: Variables) -> None:
    """Let units that are alike end in the order of their numbers: any schedule can be renamed into one that does."""
    for first, then in pairs_alike(v.net):
        v.model.add(v.start[first.last] <= v.start[then.last])


def pairs_alike(net: Network) -> Iterator[tuple[Path, Path]]:
    """Yield each unit with the next one that is like it."""
    groups: dict[object, list[Path]] = {}
    due_of = {i: d for d, due in enumerate(net.dues) for i in due.members}
    for path in net.paths:
        groups.setdefault((due_of.get(path.last), _word(net, path)), []).append(path)
    for group in groups.values():
        yield from pairwise(group)


def _word(net: Network, path: Path) -> object:
    """Everything in which two units can differ. Tables that are alike are shared, so that their ids will do."""
    steps = tuple(_step(net.activities[i], path) for i in range(path.first, path.last + 1))
    stays = tuple((net.stays[k].classes, net.stays[k].since_start) for k in path.stays)
    lags = tuple(
        (lag.first - path.first, lag.then - path.first, lag.rule, _ids(lag.earliest), _ids(lag.latest))
        for lag in net.lags
        if path.first <= lag.first <= path.last
    )
    return steps, stays, lags, path.present, path.late_pickup, path.since_start


def _ids(curves: object) -> object:
    return tuple((c, id(curve)) for c, curve in curves.items())  # type: ignore[attr-defined]


def _step(a: Activity, path: Path) -> object:
    windows = tuple((rule, tuple(sorted(masks.items()))) for rule, masks in sorted(a.windows.items()))
    where = a.stay - path.stays[0] if a.stay >= 0 else -1
    emits = (a.emits_dust, a.emits_vapour, _ids(a.clears))
    film = (a.product, a.volume_ml, a.packs, id(a.load))
    return a.slots, windows, a.crew, a.demands, a.respirator, where, emits, film
