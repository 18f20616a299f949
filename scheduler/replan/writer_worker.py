"""The program behind :mod:`scheduler.replan.writer`: solutions come in, choices go out, a line each."""

import base64
import os
import pickle
import signal
import sys
from typing import cast

from scheduler.replan.room import KnownRoutes
from scheduler.replan.writing import Basis, Choice, Found, write_out


def main() -> None:
    """Write out whatever comes, until nobody is there any more."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    basis = cast("Basis", pickle.load(sys.stdin.buffer))
    routes = KnownRoutes(basis.built.network)
    while True:
        try:
            found = cast("Found", pickle.load(sys.stdin.buffer))
        except EOFError:
            os._exit(0)
        print(base64.b64encode(pickle.dumps(_written(basis, found, routes))).decode(), flush=True)


def _written(basis: Basis, found: Found, routes: KnownRoutes) -> Choice | None:
    """None where it cannot be written: who asked does it again and meets the same fault where it can be told."""
    try:
        return write_out(basis, found, routes)
    except Exception:
        return None


if __name__ == "__main__":
    main()
