"""Why, as a command asks it: the unit, the moment before which it was to be back, and the same for a machine."""

from dataclasses import dataclass
from datetime import datetime, time, timedelta
from pathlib import Path
from typing import Final

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed
from scheduler.cli.saved_plan import SavedPlan, saved_plan
from scheduler.documents.words.local_time import LocalTime
from scheduler.replan.binding import Bind
from scheduler.replan.why import Why, latest_unit, why
from scheduler.shop.faults import nearest
from scheduler.shop.shop import Shop

MOST_NAMED: Final = 12


@dataclass(frozen=True)
class Asked:
    """An answer with the plan that it is about; ``day`` is what was asked for, None for when it is due."""

    saved: SavedPlan
    found: Why
    day: datetime | None

    @property
    def time(self) -> LocalTime:
        """The site's clock."""
        return LocalTime(self.saved.built.grid.zone)

    def at(self, end: int) -> datetime:
        """Moment before which a slot's work ends."""
        return self.saved.built.grid.end_of(end)


def asked_why(folder: Path, what: str, day: datetime | None, told: Path | None) -> Asked:
    """Answer a question about a unit or an order, for which its last unit stands.

    Raises
    ------
    Failed
        If the plan does not have it, or it has been handed back.
    """
    saved = saved_plan(folder, told)
    net, grid = saved.built.network, saved.built.grid
    unit = what if what in saved.shop.unit_by_id else latest_unit(net, saved.placed, what)
    if unit is None or all(path.unit != unit for path in net.paths):
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {_nobody(saved.shop, what)}")
    until = _in_time(net, saved.placed, unit)
    if day is not None:
        evening = datetime.combine(day.date() + timedelta(days=1), time(), grid.zone)
        until = int(grid.last_until(grid.minutes_at(evening) - grid.grid_min)) + 1
    return Asked(saved, why(net, saved.placed, unit, until), day)


def _in_time(net: Network, placed: Placed, unit: str) -> int | None:
    """Last slot before which a late unit would be in time; None for one that is in time."""
    path = next(path for path in net.paths if path.unit == unit)
    late = next((due.late for due in net.dues if due.order == path.order), ())
    now = placed.start[path.last] + net.activities[path.last].slots
    return max(end for end in range(net.slots + 1) if not late[end]) if late and late[now] else None


def _nobody(shop: Shop, what: str) -> str:
    """Why there is nothing to say of a name, and what could be asked instead."""
    orders = list(shop.order_by_id)
    some = f"the orders are {', '.join(orders[:MOST_NAMED])}{' ...' if len(orders) > MOST_NAMED else ''}"
    if what in shop.unit_by_id or what in shop.order_by_id:
        return f"{what} has been handed back; {some}"
    meant = nearest(what, [*shop.unit_by_id, *orders])
    return f"{what} is no unit and no order; {f'write {meant} if that is meant; ' if meant else ''}{some}"


def why_data(asked: Asked) -> dict[str, object]:
    """Everything for a machine; moments are ISO 8601 with the site's offset."""
    found, time_ = asked.found, asked.time

    def at(end: int | None) -> str | None:
        return None if end is None else time_.iso(asked.at(end))

    def binds(rows: tuple[Bind, ...]) -> list[dict[str, object]]:
        return [
            {"back_at": at(b.end), "eased": [{"rule": e.rule, "what": e.what, "with": e.says} for e in b.eases]} for b in rows
        ]

    return {
        "unit_id": found.unit,
        "order_id": found.order,
        "back_at": at(found.now),
        "next_best": at(found.next_best),
        "alone": at(found.alone),
        "asked_for": None if asked.day is None else asked.day.date().isoformat(),
        "proven": found.proven,
        "binds": binds(found.binds),
        "pairs": binds(found.pairs),
        "binds_alone": binds(found.binds_alone),
        "in_the_way": [{"unit_id": row.unit, "order_id": row.order, "back_at": at(row.end)} for row in found.in_the_way],
    }
