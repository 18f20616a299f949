"""Rule cartridge_stock: each film's packs are drawn from lots that have arrived and are in date, or from opened packs."""

from scheduler.activities.masks import span
from scheduler.activities.network import Activity, Source
from scheduler.model.variables import Variables


def cartridge_stock(v: Variables) -> None:
    """Draw each film's packs from sources; a lot gives no more than it has, and one opened pack at most saves a full one."""
    for i, activity in enumerate(v.net.activities):
        if activity.product:
            _draw(v, i, activity)
    for s, source in enumerate(v.net.sources):
        drawn = [n for (_, t), n in v.draws.items() if t == s]
        if drawn and not source.opened_ml:
            v.model.add(sum(drawn) <= source.packs)


def _draw(v: Variables, i: int, activity: Activity) -> None:
    opened = []
    for s, source in enumerate(v.net.sources):
        if source.packs and v.net.saves_a_pack(activity, source):
            v.draws[i, s] = v.model.new_bool_var(f"{activity.key} draws {source.key}")
            opened.append(v.draws[i, s])
        elif source.product == activity.product and not source.opened_ml:
            _draw_from_lot(v, i, s)
    v.model.add_at_most_one(opened)
    v.model.add(sum(n for (j, _), n in v.draws.items() if j == i) == activity.packs)


def _draw_from_lot(v: Variables, i: int, s: int) -> None:
    activity, source = v.net.activities[i], v.net.sources[s]
    most, window = min(activity.packs, source.packs), in_date(v, i, source)
    if not window or most <= 0:
        return
    drawn = v.model.new_int_var(0, most, f"{activity.key} draws {source.key}")
    v.draws[i, s] = drawn
    if window != v.union(i):
        v.model.add(drawn == 0).only_enforce_if(~v.start_in(i, window))


def in_date(v: Variables, i: int, source: Source) -> int:
    """Starts at which a film is applied from its start to its end while a source may be drawn."""
    return v.union(i) & span(source.first, source.last - v.net.activities[i].slots + 1)
