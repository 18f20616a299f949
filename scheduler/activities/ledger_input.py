"""The films and the stock of a network as the cartridge ledger wants them."""

from collections.abc import Iterator, Mapping, Sequence

from scheduler.activities.network import Network
from scheduler.material.pack import Begun, Film, Lot, at_least_ul


def films_at(net: Network, start: Sequence[int], guns: Mapping[int, str] | None = None) -> Iterator[Film]:
    """Film steps where they were placed; ``guns`` names the gun of an activity."""
    for i, activity in enumerate(net.activities):
        if activity.product and start[i] >= 0:
            loaded = None if activity.load is None else activity.load[start[i]]
            gun = (guns or {}).get(i, "")
            yield Film(i, activity.product, start[i], start[i] + activity.slots, at_least_ul(activity.volume_ml), loaded, gun)


def lots_of(net: Network) -> list[Lot]:
    """Lots, first expired first."""
    return [Lot(s.key, s.product, s.packs, s.first, s.last, s.opened_before) for s in net.sources if not s.begun_ul]


def begun_of(net: Network) -> list[Begun]:
    """Packs that stand opened, those that were opened first to begin with."""
    return [Begun(s.key, s.lot, s.product, s.begun_ul, s.first, s.last) for s in net.sources if s.begun_ul]
