"""The way out of a plan that cannot be: pins that break a rule, orders that must slip, changes that cure it."""

from typing import TYPE_CHECKING

from scheduler.cli.failed import Failed
from scheduler.cli.talk import say

if TYPE_CHECKING:
    from scheduler.documents.words.local_time import LocalTime
    from scheduler.replan.slips import Slip
    from scheduler.replan.ways_out import WaysOut
    from scheduler.shop.shop import Shop


def with_way_out(failed: Failed, shop: "Shop") -> Failed:
    """Say a failure, then look for what can be done about it."""
    from scheduler.activities.build import build_network
    from scheduler.replan.pins import broken_pins
    from scheduler.replan.ways_out import ways_out

    pins = broken_pins(shop, build_network(shop))
    say("\n".join([failed.says, *(f"Pin: {pin.says}." for pin in pins)]))  # at once: a way out takes a while to find
    rules = failed.data.get("rules", ())
    found = ways_out(shop, rules if isinstance(rules, list) else (), pins)
    lines = _lines(found, shop) or ["No way out was found among what was tried."]
    data = {
        "pins": [{"unit_id": p.pin.unit_id, "step": p.pin.step, "rules": list(p.rules), "says": p.says} for p in pins],
        "slips": [{"order_id": s.order, "back_at": s.back_at.isoformat() if s.back_at else None} for s in found.slips],
        "fewest_slips_proven": found.fewest,
        "cures": list(found.cures),
    }
    return Failed(failed.code, "\n".join(lines), {**failed.data, **data})


def _lines(found: "WaysOut", shop: "Shop") -> list[str]:
    from scheduler.documents.words.local_time import LocalTime

    time = LocalTime(shop.site.tz)
    lines: list[str] = []
    if found.slips:
        fewest = (
            "The fewest orders that must slip (proven)" if found.fewest else "Orders that would have to slip, the fewest found"
        )
        lines.append(f"{fewest}, and when they could be back instead:")
        lines += [f"  {slip.order}, {slip.customer}: {_back(slip, time)}" for slip in found.slips]
    if found.cures:
        one = len(found.cures) == 1
        lines.append(f"{'This' if one else 'Any one of these'} lets everything find a place:")
        lines += [f"  {cure}" for cure in found.cures]
    elif found.slips:
        lines.append("No single change that was tried lets everything find a place.")
    return lines


def _back(slip: "Slip", time: "LocalTime") -> str:
    if slip.back_at is None:
        return "no day was found, four weeks past the end of the plan included"
    return f"{time.text(slip.back_at)}{', after the plan ends' if slip.past_end else ''}"
