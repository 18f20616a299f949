"""Rule open_life: an opened pack is drawn only while it keeps."""

from scheduler.model.cartridge_stock import in_time
from scheduler.model.variables import Variables


def open_life(v: Variables) -> None:
    """Keep films away from opened packs that have lapsed."""
    for s in {s for _, s in v.draws if v.net.sources[s].begun_ul}:
        in_time(v, s)
