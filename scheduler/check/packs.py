"""Packs as the schedule names them: who uses each, in what order."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from scheduler.check.jobs import Job
from scheduler.schedule.schedule import Draw


@dataclass(frozen=True, slots=True)
class PackUse:
    """One use of a pack.

    Attributes
    ----------
    before : PackUse or None
        The use before it in time.
    """

    job: Job
    draw: Draw
    before: "PackUse | None"

    @property
    def where(self) -> str:
        """Pack and step, such as ``LN-167#003 for U07 coat-2``."""
        return f"{self.draw.cartridge_id} for {self.job.label}"


def pack_uses(planned: Iterable[Job]) -> dict[str, tuple[PackUse, ...]]:
    """Uses of every pack by its id, in the order of time; draws of one step in the order in which they stand."""
    found: dict[str, list[PackUse]] = defaultdict(list)
    for job in planned:
        for draw in job.work.draws:
            uses = found[draw.cartridge_id]
            uses.append(PackUse(job, draw, uses[-1] if uses else None))
    return {pack: tuple(uses) for pack, uses in found.items()}
