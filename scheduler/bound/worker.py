"""The program behind :mod:`scheduler.bound.background`: a network comes in, bounds go out, a line each."""

import os
import pickle
import signal
import sys
import threading

from scheduler.bound.bounds import bounds


def _end_with_the_search() -> None:
    """Leave when the pipe is closed, however the search ended."""
    sys.stdin.buffer.read()
    os._exit(0)


def main() -> None:
    """Read a network and a schedule, tell each better bound."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    net, placed = pickle.load(sys.stdin.buffer)
    threading.Thread(target=_end_with_the_search, daemon=True).start()
    told = -1
    for bound in bounds(net, placed):
        if bound > told:
            told = bound
            print(told, flush=True)
    os._exit(0)


if __name__ == "__main__":
    main()
