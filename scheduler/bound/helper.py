"""A process of its own on the other core: it is told something, tells lines, and ends with the search.

It is a program of its own, not a fork: it shares nothing with the threads of the search, and nothing that it prints gets into
the output.
"""

import os
import pickle
import signal
import subprocess
import sys
import tempfile
import threading
import warnings
from collections.abc import Callable
from contextlib import suppress
from queue import SimpleQueue
from types import TracebackType
from typing import Self


class Helper:
    """Runs a module as a program beside the search.

    Parameters
    ----------
    module : str
        Module to run; it begins with :func:`told`.
    tell : object or None
        What it is told first, if it is there already.
    heard : callable
        Takes each line that it tells, in a thread of its own.
    name : str
        What it is called when it fails.
    """

    def __init__(self, module: str, tell: object, heard: Callable[[bytes], None], name: str) -> None:
        self._name, self._heard = name, heard
        self._to_tell: SimpleQueue[bytes | None] = SimpleQueue()
        if tell is not None:
            self.tell(tell)
        self._faults = tempfile.TemporaryFile()  # noqa: SIM115 - closed by end()
        path = os.pathsep.join(p for p in sys.path if p)
        self._process = subprocess.Popen(
            [sys.executable, "-m", module],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=self._faults,
            env={**os.environ, "PYTHONPATH": path},
        )
        self._threads = [threading.Thread(target=work, daemon=True) for work in (self._tell, self._listen)]
        for thread in self._threads:
            thread.start()

    def tell(self, more: object) -> None:
        """Tell it something, without waiting until it listens."""
        self._to_tell.put(pickle.dumps(more))

    def _tell(self) -> None:
        """Tell it what there is; the pipe stays open, and its end tells the process to end."""
        stdin = self._process.stdin
        with suppress(BrokenPipeError):
            while stdin is not None and (more := self._to_tell.get()) is not None:
                stdin.write(more)
                stdin.flush()

    def _listen(self) -> None:
        for line in self._process.stdout or ():
            self._heard(line.strip())

    def working(self) -> bool:
        """Whether more may still come."""
        return self._process.poll() is None

    def end(self) -> None:
        """Stop and wait; a process that failed on its own account is told of, what it had told holds."""
        failed = self._process.poll() not in (None, 0)
        self._process.kill()
        self._process.wait()
        self._to_tell.put(None)
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
            reason = said[-1] if said else "no reason given"
            warnings.warn(f"{self._name} stopped early: {reason}", RuntimeWarning, stacklevel=2)

    def __enter__(self) -> Self:
        """Work for as long as a block runs."""
        return self

    def __exit__(self, _kind: type[BaseException] | None, _value: BaseException | None, _trace: TracebackType | None) -> None:
        """End with the block."""
        self.end()


def told() -> object:
    """In the process itself: what it is told. From then on it leaves when the search ends, however that ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    found: object = pickle.load(sys.stdin.buffer)
    threading.Thread(target=_end_with_the_search, daemon=True).start()
    return found


def _end_with_the_search() -> None:
    sys.stdin.buffer.read()
    os._exit(0)
