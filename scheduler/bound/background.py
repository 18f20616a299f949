"""The bound on the other core: a process of its own that tells each better bound and ends with the search."""

import os
import pickle
import subprocess
import sys
import tempfile
import threading
import warnings
from contextlib import suppress
from types import TracebackType
from typing import Self

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed


class BoundProcess:
    """Works on the bound of a network while the search goes on.

    It is a program of its own, not a fork: it shares nothing with the threads of the search, and nothing that it prints gets
    into the output.

    Parameters
    ----------
    net : Network
    placed : Placed or None
        A schedule to learn from.
    """

    def __init__(self, net: Network, placed: Placed | None) -> None:
        self.bound = 0
        self._told = pickle.dumps((net, placed))
        self._faults = tempfile.TemporaryFile()  # noqa: SIM115 - closed by end()
        path = os.pathsep.join(p for p in sys.path if p)
        self._process = subprocess.Popen(
            [sys.executable, "-m", "scheduler.bound.worker"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=self._faults,
            env={**os.environ, "PYTHONPATH": path},
        )
        self._threads = [threading.Thread(target=work, daemon=True) for work in (self._tell, self._listen)]
        for thread in self._threads:
            thread.start()

    def _tell(self) -> None:
        """Send the network; the pipe stays open, and its end tells the process to end."""
        stdin = self._process.stdin
        with suppress(BrokenPipeError):
            if stdin is not None:
                stdin.write(self._told)
                stdin.flush()
        self._told = b""

    def _listen(self) -> None:
        stdout = self._process.stdout
        for line in stdout or ():
            if line.strip().isdigit():
                self.bound = max(self.bound, int(line))

    def working(self) -> bool:
        """Whether a better bound may still come."""
        return self._process.poll() is None

    def end(self) -> None:
        """Stop and wait; a process that failed on its own account is told of, the bound that it had holds."""
        failed = self._process.poll() not in (None, 0)
        self._process.kill()
        self._process.wait()
        for thread in self._threads:
            thread.join()
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe is not None:
                with suppress(BrokenPipeError):
                    pipe.close()
        self._faults.seek(0)
        said = self._faults.read().decode(errors="replace").strip().splitlines()
        self._faults.close()
        if failed:
            warnings.warn(f"the bound stopped early: {said[-1] if said else 'no reason given'}", RuntimeWarning, stacklevel=2)

    def __enter__(self) -> Self:
        """Work for as long as a block runs."""
        return self

    def __exit__(self, _kind: type[BaseException] | None, _value: BaseException | None, _trace: TracebackType | None) -> None:
        """End with the block."""
        self.end()
