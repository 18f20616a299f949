"""Many shops on several machines, over Dask distributed, which is the extra ``cluster``.

On every machine that helps: ``dask worker ADDRESS``, in an environment with the same coatrun and its extra ``cluster``.
"""

from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING

from scheduler.many.answer import Answer
from scheduler.many.one_shop import Job, fault, lost, plan_one, stopped

if TYPE_CHECKING:
    from distributed import Client, Future

PATIENCE_S = 10


class MissingExtraError(ImportError):
    """Several machines need a library that is not installed."""

    def __init__(self) -> None:
        super().__init__("several machines need the extra cluster: pip install 'coatrun[cluster]'")


class NoClusterError(OSError):
    """Nobody answers at the address of the scheduler."""


class Cluster:
    """A backend of the workers of a Dask scheduler.

    Parameters
    ----------
    address : str or None
        Address of the scheduler such as ``tcp://10.0.0.5:8786``; without one as many workers are started on this machine and are
        reached through its loop-back address only.
    count : int
        Workers to start where no address is given.
    work : callable
        What a worker does with a job.
    """

    def __init__(self, address: str | None = None, count: int = 2, work: Callable[[Job], Answer] = plan_one) -> None:
        self.address, self.count, self.work = address, count, work

    def answers(self, jobs: Sequence[Job]) -> Iterator[tuple[int, Answer]]:
        """Yield the answers as they come.

        Raises
        ------
        MissingExtraError
            If the extra is not installed.
        NoClusterError
            If there is no scheduler at the address, or no worker comes to it.
        """
        dask = _library()
        with ExitStack() as stack:
            client = self._client(dask, stack)
            futures = [client.submit(self.work, job, pure=False, retries=0) for job in jobs]
            numbers = {future.key: number for number, future in enumerate(futures)}
            left = set(numbers)
            try:
                for future in dask.as_completed(futures):
                    left.discard(future.key)
                    yield numbers[future.key], _answer(jobs[numbers[future.key]], future)
            except KeyboardInterrupt:
                client.cancel(futures)
                yield from ((numbers[key], stopped(jobs[numbers[key]].name)) for key in left)

    def _client(self, dask: ModuleType, stack: ExitStack) -> "Client":
        place = self.address
        if place is None:
            local = {"host": "127.0.0.1", "dashboard_address": None, "threads_per_worker": 1, "processes": True}
            place = stack.enter_context(dask.LocalCluster(n_workers=self.count, **local))
        try:
            client: Client = stack.enter_context(dask.Client(place, timeout=PATIENCE_S))
            client.wait_for_workers(1, timeout=PATIENCE_S)
        except (OSError, TimeoutError) as error:
            msg = f"no worker answers at {self.address or 'this machine'}; start one with: dask worker ADDRESS"
            raise NoClusterError(msg) from error
        return client


def _library() -> ModuleType:
    try:
        return import_module("distributed")
    except ImportError as missing:
        raise MissingExtraError from missing


def _answer(job: Job, future: "Future") -> Answer:
    """Answer of a future; a worker that died has lost the shop."""
    from distributed import KilledWorker

    error = future.exception()
    if error is None:
        answer: Answer = future.result()
        return answer
    return lost(job.name) if isinstance(error, KilledWorker) else fault(job.name, error)
