"""Many shops in the processes of this machine, over the standard library's pool.

Each lane is a pool of one process, so that a process that dies loses the one shop that it had and no other. Processes are
spawned, not forked: a fork of a program with threads, such as a solver's, may hang.
"""

import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, ThreadPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from queue import SimpleQueue

from scheduler.many.answer import Answer
from scheduler.many.one_shop import Job, fault, lost, plan_one, stopped


class Processes:
    """A backend of as many processes.

    Parameters
    ----------
    count : int
        Shops that are planned at the same time.
    work : callable
        What a process does with a job.
    """

    def __init__(self, count: int, work: Callable[[Job], Answer] = plan_one) -> None:
        if count < 1:
            msg = f"{count} processes cannot plan anything; give 1 or more"
            raise ValueError(msg)
        self.count, self.work = count, work

    def answers(self, jobs: Sequence[Job]) -> Iterator[tuple[int, Answer]]:
        """Yield the answers as they come."""
        lanes: SimpleQueue[_Lane] = SimpleQueue()
        made = [_Lane(self.work) for _ in range(min(self.count, len(jobs)))]
        for lane in made:
            lanes.put(lane)
        stop = threading.Event()
        with ThreadPoolExecutor(max(1, len(made))) as threads:
            numbers = {threads.submit(_in_a_lane, lanes, job, stop): number for number, job in enumerate(jobs)}
            try:
                yield from _as_they_come(numbers, stop)
            finally:
                stop.set()
        for lane in made:
            lane.close()


def _as_they_come(numbers: dict[Future[Answer], int], stop: threading.Event) -> Iterator[tuple[int, Answer]]:
    """Yield answers; Ctrl-C reaches the processes as well, whose searches then end with the best so far."""
    left = set(numbers)
    while left:
        try:
            for done in as_completed(left):
                left.discard(done)
                yield numbers[done], done.result()
        except KeyboardInterrupt:
            if stop.is_set():
                raise
            stop.set()


def _in_a_lane(lanes: "SimpleQueue[_Lane]", job: Job, stop: threading.Event) -> Answer:
    if stop.is_set():
        return stopped(job.name)
    lane = lanes.get()
    try:
        return lane.run(job)
    except KeyboardInterrupt:
        return stopped(job.name)
    except Exception as error:
        return fault(job.name, error)
    finally:
        lanes.put(lane)


class _Lane:
    """One process that works off shops; another takes its place if it dies."""

    def __init__(self, work: Callable[[Job], Answer]) -> None:
        self.work = work
        self.pool: ProcessPoolExecutor | None = None

    def run(self, job: Job) -> Answer:
        """Work on one shop."""
        if self.pool is None:
            self.pool = ProcessPoolExecutor(1, mp_context=get_context("spawn"))
        try:
            return self.pool.submit(self.work, job).result()
        except BrokenProcessPool:
            self.close()
            return lost(job.name)

    def close(self) -> None:
        """End the process."""
        if self.pool is not None:
            self.pool.shutdown()
            self.pool = None
