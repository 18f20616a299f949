"""Which tool of a kind each step gets: which of the guns, which of the grinders."""

from scheduler.activities.as_told import Told
from scheduler.activities.build import Built
from scheduler.activities.hand_out import Spans, Use, hand_out
from scheduler.activities.placed import Placed
from scheduler.activities.resources import equipment_shut, item_id
from scheduler.activities.under_way import change_slots
from scheduler.shop.resources import Kind
from scheduler.shop.shop import Shop


def named_tools(shop: Shop, built: Built, placed: Placed, kind: Kind, earlier: Told) -> dict[int, str]:
    """Tool of a kind by the number of the step; among those that are free the one that people were told, else the cheapest."""
    rows = shop.equipment_of(kind)
    items = {item_id(e, n + 1): e.equipment_id for e in rows for n in range(e.count)}
    rent = {e.equipment_id: e.rent_per_day for e in rows}
    cheapest = sorted(items, key=lambda item: rent[items[item]])
    shut = {item: _not_there(shop, built, kind, item, row_id) for item, row_id in items.items()}
    return hand_out(_uses(built, placed, kind, items, earlier), cheapest, shut)


def _uses(built: Built, placed: Placed, kind: Kind, items: dict[str, str], earlier: Told) -> list[Use]:
    pool = next(i for i, p in enumerate(built.network.pools) if p.key == kind.value)
    uses = []
    for i, activity in enumerate(built.network.activities):
        for demand in activity.demands:
            if demand.pool == pool:
                start, told = placed.start[i], earlier.tool(activity.key, items)
                end = start + activity.slots + demand.tail
                uses.append(Use(i, start, end, activity.product or "", told, kind_first=kind is Kind.GUN))
    return uses


def _not_there(shop: Shop, built: Built, kind: Kind, item: str, row_id: str) -> Spans:
    """When a tool is out of service, or still in use by a step under way."""
    change = change_slots(shop) if kind is Kind.GUN else 0
    in_use = [(0, row.end + change) for row in built.begun if item in row.done.tools]
    return (*equipment_shut(shop, built.grid, row_id), *in_use)
