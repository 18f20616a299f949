"""Where many shops are planned: what every place has in common, and the plainest one."""

from collections.abc import Iterator, Sequence
from typing import Protocol

from scheduler.many.answer import Answer
from scheduler.many.one_shop import Job, plan_one, stopped


class Backend(Protocol):
    """A place to plan shops."""

    def answers(self, jobs: Sequence[Job]) -> Iterator[tuple[int, Answer]]:
        """Yield the number of each job and its answer, as they come; after Ctrl-C what was not begun is answered as stopped."""
        ...


class Serial:
    """One shop after the other in this process."""

    def answers(self, jobs: Sequence[Job]) -> Iterator[tuple[int, Answer]]:
        """Yield the answers in the order of the jobs."""
        interrupted = False
        for number, job in enumerate(jobs):
            answer = stopped(job.name)
            if not interrupted:
                try:
                    answer = plan_one(job)
                except KeyboardInterrupt:
                    interrupted = True
            yield number, answer
