"""Rule cartridge_stock: each film draws its volume from lots that have arrived and are in date, or from opened packs.

This is the least that the ledger asks: purges of packs that are started again are left out, so that what has no solution
here has none at all. Products of which there is enough at any time need no variables.
"""

from collections.abc import Sequence

from scheduler.activities.masks import span
from scheduler.activities.network import Source
from scheduler.material.pack import at_most_ul
from scheduler.model.variables import Variables


def cartridge_stock(v: Variables) -> None:
    """Draw each film's microlitres from sources of its product; a source gives no more than it holds."""
    for product in v.net.sheets:
        films = [i for i, a in enumerate(v.net.activities) if a.product == product]
        sources = [s for s, row in enumerate(v.net.sources) if row.product == product]
        if films and not _plenty(v, films, sources):
            _draw_all(v, films, sources)


def _plenty(v: Variables, films: Sequence[int], sources: Sequence[int]) -> bool:
    """Whether lots that are there from the first film to the last hold enough for all."""
    always = [v.net.sources[s] for s in sources if all(in_date(v, i, v.net.sources[s]) == v.union(i) for i in films)]
    return sum(row.gives_ul for row in always) >= sum(at_most_ul(v.net.activities[i].volume_ml) for i in films)


def _draw_all(v: Variables, films: Sequence[int], sources: Sequence[int]) -> None:
    for i in films:
        wanted = at_most_ul(v.net.activities[i].volume_ml)
        for s in sources:
            most = min(wanted, v.net.sources[s].gives_ul)
            v.draws[i, s] = v.model.new_int_var(0, most, f"{v.net.activities[i].key} draws {v.net.sources[s].key}")
        v.model.add(sum(v.draws[i, s] for s in sources) >= wanted)
    for s in sources:
        v.model.add(sum(v.draws[i, s] for i in films) <= v.net.sources[s].gives_ul)
        if not v.net.sources[s].begun_ul:
            in_time(v, s)


def in_time(v: Variables, s: int) -> None:
    """Draw from a source only while it may be used."""
    for (i, t), drawn in v.draws.items():
        window = in_date(v, i, v.net.sources[s]) if t == s else 0
        if t == s and not window:
            v.model.add(drawn == 0)
        elif t == s and window != v.union(i):
            v.model.add(drawn == 0).only_enforce_if(~v.start_in(i, window))


def in_date(v: Variables, i: int, source: Source) -> int:
    """Starts at which a film is warmed and applied to its end while a source may be drawn."""
    activity = v.net.activities[i]
    first = source.first
    if activity.load is not None:
        first = next((start for start in range(first, v.net.slots) if activity.load[start] >= source.first), v.net.slots)
    return v.union(i) & span(first, source.last - activity.slots + 1)
