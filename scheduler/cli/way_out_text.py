"""The way out of a plan that cannot be: pins that break a rule, orders that must slip, changes that cure it."""

from typing import TYPE_CHECKING

from scheduler.cli.failed import Failed
from scheduler.cli.talk import say

if TYPE_CHECKING:
    from scheduler.replan.ways_out import WaysOut
    from scheduler.shop.shop import Shop


def with_way_out(failed: Failed, shop: "Shop") -> Failed:
    """Say a failure, then look for what can be done about it."""
    from scheduler.activities.build import build_network
    from scheduler.replan.pins import broken_pins
    from scheduler.replan.ways_out import ways_out, without_pins

    pins = broken_pins(shop, build_network(shop))
    say("\n".join([failed.says, *(f"Pin: {pin.says}." for pin in pins)]))  # at once: a way out takes a while to find
    found = (without_pins(shop, pins) if pins else None) or ways_out(shop)
    lines = _lines(found, shop) or ["No way out was found among what was tried."]
    data = {
        "pins": [{"unit_id": p.pin.unit_id, "step": p.pin.step, "rules": list(p.rules), "says": p.says} for p in pins],
        "slips": [{"order_id": s.order, "back_at": s.back_at.isoformat() if s.back_at else None} for s in found.slips],
        "cures": list(found.cures),
    }
    return Failed(failed.code, "\n".join(lines), {**failed.data, **data})


def _lines(found: "WaysOut", shop: "Shop") -> list[str]:
    from scheduler.documents.words.local_time import LocalTime

    time = LocalTime(shop.site.tz)
    lines: list[str] = []
    if found.slips:
        fewest = "The fewest orders that must slip" if found.fewest else "Orders that would have to slip"
        to = [f"to {time.text(s.back_at)}" if s.back_at else "past the end of the plan" for s in found.slips]
        rows = [f"{slip.order}, {slip.customer} ({when})" for slip, when in zip(found.slips, to, strict=True)]
        lines.append(f"{fewest}: {'; '.join(rows)}.")
    if found.cures:
        lines.append("Any one of these lets everything find a place, the cheapest kind first:")
        lines += [f"  {cure}" for cure in found.cures]
    elif found.slips:
        lines.append("No single change that was tried lets everything find a place.")
    return lines
