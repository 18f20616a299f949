"""A small picture of each order's slack: hand-over and due date on one line from the start to the end of the plan."""

from dataclasses import dataclass
from typing import Final

from scheduler.schedule.schedule import DeliveryDate, Schedule

WIDTH: Final = 150.0


@dataclass(frozen=True, slots=True)
class SlackStrip:
    """Places on a line of ``WIDTH``; ``start`` and ``length`` are the stretch between hand-over and due date."""

    delivered: float
    due: float
    late: bool

    @property
    def start(self) -> float:
        """Where the stretch begins."""
        return min(self.delivered, self.due)

    @property
    def length(self) -> float:
        """How long it is."""
        return round(abs(self.delivered - self.due), 1)


def slack_strips(schedule: Schedule) -> dict[str, SlackStrip]:
    """Picture of each order that is delivered."""
    if not schedule.deliveries:
        return {}
    first = schedule.plan_from
    whole = (max(max(d.due_at, d.delivered_at) for d in schedule.deliveries) - first).total_seconds()

    def place(moment_s: float) -> float:
        return round(min(max(moment_s / max(whole, 1.0), 0.0), 1.0) * WIDTH, 1)

    def strip(delivery: DeliveryDate) -> SlackStrip:
        delivered, due = (place((moment - first).total_seconds()) for moment in (delivery.delivered_at, delivery.due_at))
        return SlackStrip(delivered, due, delivery.days_late > 0)

    return {delivery.order_id: strip(delivery) for delivery in schedule.deliveries}
