"""Many shops in the processes of this machine, over the standard library's pool.

Each lane is a pool of one process, so that a process that dies loses the one shop that it had and no other. Processes are
spawned, not forked: a fork of a program with threads, such as a solver's, may hang.
"""

import os
import signal
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, ThreadPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing import get_context
from queue import SimpleQueue
from typing import Final

from scheduler.many.answer import Answer, End
from scheduler.many.one_shop import Job, fault, lost, plan_one, stopped

PATIENCE_S: Final = 0.5
"""Ctrl-C may end a process a moment before this one hears of it."""


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
        answer = lane.run(job)
        return stopped(job.name) if answer.end is End.LOST and stop.wait(PATIENCE_S) else answer
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
            self.pool = ProcessPoolExecutor(1, mp_context=get_context("spawn"), initializer=_hear)
        try:
            with _deaf():
                future = self.pool.submit(self.work, job)
            return future.result()
        except BrokenProcessPool:
            self.close()
            return lost(job.name)

    def close(self) -> None:
        """End the process."""
        if self.pool is not None:
            self.pool.shutdown()
            self.pool = None


@contextmanager
def _deaf() -> Iterator[None]:
    """Start processes that hear no Ctrl-C until they are ready: one in the middle of its imports would die with a traceback."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _hear() -> None:
    """From here on Ctrl-C is heard; one that came before ends the process without a word."""
    if hasattr(signal, "pthread_sigmask"):
        try:
            signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGINT})
        except KeyboardInterrupt:
            os._exit(130)
