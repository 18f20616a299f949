"""A unit as it stands by the events of its own steps; no other unit can change it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from scheduler.record.events import Plain
from scheduler.record.history import Works, begin_of, history_of
from scheduler.record.progress import Progress, progress_of
from scheduler.record.rework_now import Rounds, begun
from scheduler.schedule.schedule import Schedule
from scheduler.shop.fixed import Done, Rework
from scheduler.shop.methods import Step
from scheduler.shop.need import Need
from scheduler.shop.rework_needs import stay_at
from scheduler.shop.shop import Shop


@dataclass(frozen=True, slots=True)
class Outset:
    """What the folder and the latest schedule say, before anything is recorded.

    Attributes
    ----------
    listed : mapping of str to tuple of Done
        Rows of the table of done steps by unit.
    begun : Rounds
        The same as the beginning of what is followed.
    """

    shop: Shop
    works: Works
    listed: Mapping[str, tuple[Done, ...]]
    begun: Rounds


def outset_of(shop: Shop, schedule: Schedule) -> Outset:
    """Sort by unit and step what shop and schedule say."""
    listed: dict[str, list[Done]] = {}
    for row in shop.done:
        listed.setdefault(row.unit_id, []).append(row)
    works = {(work.unit_id, work.name): work for work in schedule.work}
    return Outset(shop, works, {unit_id: tuple(rows) for unit_id, rows in listed.items()}, begun(shop))


@dataclass(frozen=True, slots=True)
class UnitNow:
    """What was done of a unit and what it needs.

    Attributes
    ----------
    done : tuple of Done
        Finished steps and the one that is under way, by their starts.
    needs : tuple of Need
        All steps in technical order, with what has to be made good.
    rework : tuple of Rework
        Why some of them are there.
    bays : frozenset of str
        Bays in which it was worked on in a stay that is not over.
    rounds : Rounds
        The unit as it was followed up to now.
    """

    progress: Progress
    done: tuple[Done, ...]
    needs: tuple[Need, ...]
    rework: tuple[Rework, ...]
    bays: frozenset[str]
    rounds: Rounds

    def needs_with(self, unit_id: str, step: str) -> tuple[Need, ...]:
        """What the unit needs once a step is reported, which may be that it is prepared again."""
        after = self.rounds.alone(unit_id)
        after.take_extra(unit_id, step)
        return after.needs(unit_id)


def unit_now(outset: Outset, unit_id: str, events: Sequence[Plain], now: datetime) -> UnitNow:
    """Follow the events of a unit's steps, those that stand in the order of time, up to a moment."""
    rounds, progress = outset.begun.alone(unit_id), progress_of(events, now)
    for event in events:
        if event.happened_at <= now:
            rounds.follow(event)
    runs, listed = progress.runs.values(), outset.listed.get(unit_id, ())
    done = history_of(unit_id, outset.works, listed, runs, rounds, begin_of(outset.shop, now))
    needs, rework = rounds.needs(unit_id), tuple(rounds.rows.get(unit_id, ()))
    return UnitNow(progress, done, needs, rework, _bays(needs, done, now), rounds)


def _bays(needs: tuple[Need, ...], done: tuple[Done, ...], now: datetime) -> frozenset[str]:
    if not any(row.bay_id for row in done):
        return frozenset()
    rows = [(stay_at(needs, row.step), row) for row in done]
    left = {stage for stage, row in rows if row.step.startswith(Step.MOVE_OUT) and row.ended_at <= now}
    return frozenset(row.bay_id for stage, row in rows if row.bay_id is not None and stage not in left)
