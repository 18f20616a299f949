"""Pins that cannot be kept: which rule each of them breaks."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from scheduler.activities.build import Built
from scheduler.activities.network import Activity
from scheduler.documents.words.local_time import LocalTime
from scheduler.search.outcome import Clash
from scheduler.shop.fixed import Pinned
from scheduler.shop.shop import Shop

PINNED = "pinned_work"


@dataclass(frozen=True, slots=True)
class BrokenPin:
    """A pin with the rules that leave no start for it, and that in words."""

    pin: Pinned
    order: str
    rules: tuple[str, ...]
    says: str


def broken_pins(shop: Shop, built: Built) -> tuple[BrokenPin, ...]:
    """Pins that break a rule of when and where, whatever else is planned."""
    step_at = {a.key: a for a in built.network.activities}
    pairs = ((pin, step_at.get(f"{pin.unit_id}/{pin.step}")) for pin in shop.pinned)
    return tuple(_broken(shop, built, pin, step) for pin, step in pairs if step is not None and not any(step.starts.values()))


def clash_of_pins(broken: Sequence[BrokenPin]) -> Clash:
    """Put pins that cannot be kept as what clashes: the orders, the rules, and why."""
    orders, rules = tuple(dict.fromkeys(row.order for row in broken)), dict.fromkeys(r for row in broken for r in row.rules)
    return Clash(orders, (PINNED, *(rule for rule in rules if rule != PINNED)), "; ".join(row.says for row in broken))


def _broken(shop: Shop, built: Built, pin: Pinned, step: Activity) -> BrokenPin:
    rules = tuple(dict.fromkeys(_rules(built, pin, step)))
    when = LocalTime(shop.site.tz).text(pin.start_at)
    where = f" in bay {pin.bay_id}" if pin.bay_id else ""
    says = f"{pin.step} of {pin.unit_id} is fixed on {when}{where}, which breaks {', '.join(rules)}"
    return BrokenPin(pin, step.order, rules, says)


def _rules(built: Built, pin: Pinned, step: Activity) -> Iterator[str]:
    """Rules that leave nothing of what the pin leaves; those of the clock where it leaves nothing itself."""
    left = step.windows[PINNED]
    if not any(left.values()):
        minutes = built.grid.minutes_at(pin.start_at)
        on_axis = int(built.grid.first_from(minutes)) == int(built.grid.last_until(minutes))
        yield "bay_fit" if on_axis else "shift_hours"
        return
    alone = [rule for rule, table in step.windows.items() if not any(table.get(c, 0) & mask for c, mask in left.items())]
    together = [rule for rule, table in step.windows.items() if rule != PINNED and any(left[c] & ~table.get(c, 0) for c in left)]
    yield from alone or together
