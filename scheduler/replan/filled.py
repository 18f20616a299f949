"""A room as a network of its own: what others have in use as fixed uses, for a solver that knows of networks only."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from scheduler.activities.masks import below, bits, runs
from scheduler.activities.network import Activity, Mask, Network
from scheduler.replan.extend import UnitPart, with_parts
from scheduler.replan.room import Room
from scheduler.replan.used import NONE_USED, Used

Taken = tuple[int, int, int]
Starts = list[dict[int, Mask]]


def filled(room: Room, parts: Sequence[UnitPart]) -> Network:
    """Return the network of units in a room; air that others fill is not in it, see :func:`starts_in`."""
    net, full = with_parts(room.net, parts), below(room.net.slots)
    pools = (replace(pool, taken=tuple(_taken(room.pools.get(n, NONE_USED), -1))) for n, pool in enumerate(net.pools))
    bays = (replace(bay, taken=tuple(_taken(room.bays.get(c, NONE_USED), bay.free & full))) for c, bay in enumerate(net.classes))
    return replace(net, pools=tuple(pools), classes=tuple(bays))


def _taken(used: Used, within: Mask) -> Iterator[Taken]:
    """Stretches in which the same amount is in use."""
    planes = [plane & within for plane in used.planes]
    edges = 0
    for plane in planes:
        edges |= plane ^ plane << 1
    cuts = bits(edges)
    for begin, end in pairwise(cuts):
        amount = sum((plane >> begin & 1) << p for p, plane in enumerate(planes)) * used.unit
        if amount:
            yield begin, end, amount


def starts_in(room: Room, net: Network, by: int) -> Starts:
    """Starts of the units of a filled network in the air that others leave, for a last step that ends by a slot."""
    last = {path.last for path in net.paths}
    found = [{c: _in_air(room, net, a, c, mask) for c, mask in a.starts.items()} for a in net.activities]
    for i in last:
        in_time = below(by - net.activities[i].slots + 1)
        found[i] = {c: mask & in_time for c, mask in found[i].items()}
    return found


def _in_air(room: Room, net: Network, activity: Activity, c: int, mask: Mask) -> Mask:
    space = net.classes[c].air_space
    if space is None:
        return mask
    if activity.emits_dust:
        return mask & runs(below(net.slots) & ~_filled(room.vapour, space), activity.slots)
    if not activity.emits_vapour or not (dust := _filled(room.dust, space)):
        return mask
    clears = activity.clears[c]
    for start in bits(mask):
        end = start + activity.slots
        if dust >> start & below(max(end, clears[end]) - start):
            mask ^= 1 << start
    return mask


def _filled(air: Mapping[str, Used], space: str) -> Mask:
    found = 0
    for plane in air.get(space, NONE_USED).planes:
        found |= plane
    return found
