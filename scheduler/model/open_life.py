"""Rule open_life: an opened pack is used once, within its open life."""

from scheduler.model.cartridge_stock import in_date
from scheduler.model.variables import Variables


def open_life(v: Variables) -> None:
    """Draw an opened pack for one film at most, and only while it keeps."""
    for s, source in enumerate(v.net.sources):
        if not source.opened_ml:
            continue
        drawn = {i: n for (i, t), n in v.draws.items() if t == s}
        v.model.add_at_most_one(drawn.values())
        for i, literal in drawn.items():
            window = in_date(v, i, source)
            if window:
                v.model.add_implication(literal, v.start_in(i, window))
            else:
                v.model.add(literal == 0)
