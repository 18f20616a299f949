"""Which bay and place each stay gets among those that are alike."""

from collections.abc import Iterator

from scheduler.activities.build import Built
from scheduler.activities.hand_out import Use, hand_out
from scheduler.activities.placed import Placed
from scheduler.activities.under_way import UnderWay
from scheduler.schedule.schedule import Schedule
from scheduler.shop.shop import Shop


def named_places(shop: Shop, built: Built, placed: Placed, earlier: Schedule | None) -> dict[int, str]:
    """Bay and place, ``C1|2``, of each stay by its number, and of each step under way that ends one by ``-1 - number``.

    A stay keeps the place that people were told, if it is free.
    """
    giver = _Giver(shop, built, placed, earlier)
    given: dict[int, str] = {}
    for c in range(len(built.network.classes)):
        given |= giver.of_class(c)
    return given


def leaving(built: Built) -> Iterator[tuple[int, UnderWay]]:
    """Yield the steps under way with which a unit leaves its bay, by number."""
    return ((i, row) for i, row in enumerate(built.begun) if row.last_of_stay and row.done.bay_id is not None)


class _Giver:
    def __init__(self, shop: Shop, built: Built, placed: Placed, earlier: Schedule | None) -> None:
        self.shop, self.built, self.net, self.placed = shop, built, built.network, placed
        told = earlier.stays if earlier is not None else ()
        self.told = {(stay.unit_id, stay.stage): f"{stay.bay_id}|{stay.place}" for stay in told}

    def of_class(self, c: int) -> dict[int, str]:
        group = self.net.classes[c]
        items = [f"{bay}|{n + 1}" for bay in group.bays for n in range(self.shop.bay_by_id[bay].places)]
        uses = [self._use(k, items) for k in range(len(self.net.stays)) if self.placed.bay_class[k] == c]
        ends = [Use(-1 - i, 0, row.leaves) for i, row in leaving(self.built) if row.done.bay_id in group.bays]
        return hand_out([*uses, *ends], items)

    def _use(self, k: int, items: list[str]) -> Use:
        stay = self.net.stays[k]
        start = 0 if stay.since_start else self.placed.start[stay.first]
        end = self.placed.start[stay.last] + self.net.activities[stay.last].slots
        told = self.told.get((stay.unit, stay.stage), "")
        return Use(k, start, end, told=told if told in items else "")
