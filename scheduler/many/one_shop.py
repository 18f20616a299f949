"""Plan one of many shops; whatever goes wrong becomes an answer, so that the others are not lost."""

import traceback
from dataclasses import dataclass
from pathlib import Path

from scheduler.many.answer import Answer, End
from scheduler.pipeline import NoScheduleError, RefusedError, plan
from scheduler.search.settings import Settings
from scheduler.shop.shop import Shop


@dataclass(frozen=True)
class Job:
    """A shop to plan; it travels whole, so that other machines need no folder of it."""

    name: str
    shop: Shop
    settings: Settings


def plan_one(job: Job) -> Answer:
    """Plan a shop in whatever process this is called."""
    try:
        return Answer(job.name, End.PLANNED, plan=plan(job.shop, job.settings))
    except NoScheduleError as none:
        return Answer(job.name, End.NO_SCHEDULE, str(none), outcome=none.outcome)
    except RefusedError as refused:
        return Answer(job.name, End.REFUSED, str(refused), report=refused.report)
    except Exception as error:
        return fault(job.name, error)


def fault(name: str, error: BaseException) -> Answer:
    """Tell what nobody expected in one line, with the place where it happened."""
    frames = traceback.extract_tb(error.__traceback__)
    where = f" in {Path(frames[-1].filename).name} line {frames[-1].lineno}" if frames else ""
    what = " ".join(str(error).split()) or "no message"
    return Answer(name, End.FAULT, f"this should not happen: {type(error).__name__}{where}: {what}")


def lost(name: str) -> Answer:
    """Tell that the process that had a shop has died."""
    return Answer(name, End.LOST, "the process that planned it has died, perhaps for want of memory; plan it alone")


def stopped(name: str) -> Answer:
    """Tell that a shop had not been begun when the run was stopped."""
    return Answer(name, End.STOPPED, "stopped before it was planned")
