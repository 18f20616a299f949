"""The program behind :mod:`scheduler.search.window_process`: a solution comes in, better ones go out, a line each."""

import os
from typing import cast

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.helper import told
from scheduler.search.finder import written
from scheduler.search.windows import Windows


def main() -> None:
    """Read a network and a solution, tell each better one until the search ends or no window is left."""
    net, best, seed = cast("tuple[Network, Placed, int]", told())
    windows = Windows(net, seed)
    while not windows.exhausted:
        found = windows.better(best)
        if found is not None:
            best = found
            print(written(best), flush=True)
    os._exit(0)


if __name__ == "__main__":
    main()
