"""Rule open_life: an opened pack is used once, within its open life, where it saves a full one."""

from scheduler.activities.masks import span
from scheduler.activities.network import Activity, Source
from scheduler.model.variables import Variables


def open_life(v: Variables) -> None:
    """Offer opened packs; with the lots they make up each film's packs."""
    for i, activity in enumerate(v.net.activities):
        if not activity.product:
            continue
        opened = [s for s, source in enumerate(v.net.sources) if saves_a_pack(v, activity, source)]
        for s in opened:
            source = v.net.sources[s]
            window = v.union(i) & span(source.first, source.last - activity.slots + 1)
            if window and source.packs:
                v.draws[i, s] = v.model.new_bool_var(f"{activity.key} draws {source.key}")
                v.model.add_implication(v.draws[i, s], v.start_in(i, window))
        mine = {s: n for (j, s), n in v.draws.items() if j == i}
        v.model.add(sum(mine.values()) == activity.packs)
        v.model.add_at_most_one(n for s, n in mine.items() if s in opened)
    for s, source in enumerate(v.net.sources):
        if source.opened_ml:
            v.model.add_at_most_one(n for (_, t), n in v.draws.items() if t == s)


def saves_a_pack(v: Variables, activity: Activity, source: Source) -> bool:
    """Whether an opened pack holds enough to replace a whole one."""
    if source.product != activity.product or not source.opened_ml:
        return False
    return source.opened_ml >= activity.volume_ml - (activity.packs - 1) * v.net.usable_ml[source.product] - 1e-9
