"""Rule cartridge_stock: packs are drawn from lots that have arrived and are in date."""

from scheduler.activities.masks import span
from scheduler.model.variables import Variables


def cartridge_stock(v: Variables) -> None:
    """Draw each film's packs from sources; a lot gives no more than it has."""
    for i, activity in enumerate(v.net.activities):
        if not activity.product:
            continue
        for s, source in enumerate(v.net.sources):
            if source.product == activity.product and not source.opened_ml:
                _draw(v, i, s)
    for s, source in enumerate(v.net.sources):
        drawn = [n for (_, t), n in v.draws.items() if t == s]
        if drawn and not source.opened_ml:
            v.model.add(sum(drawn) <= source.packs)


def _draw(v: Variables, i: int, s: int) -> None:
    activity, source = v.net.activities[i], v.net.sources[s]
    most = min(activity.packs, source.packs)
    window = v.union(i) & span(source.first, source.last - activity.slots + 1)
    if not window or most <= 0:
        return
    drawn = v.model.new_int_var(0, most, f"{activity.key} draws {source.key}")
    v.draws[i, s] = drawn
    if window != v.union(i):
        v.model.add(drawn == 0).only_enforce_if(~v.start_in(i, window))
