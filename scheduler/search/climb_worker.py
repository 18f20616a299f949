"""The program behind :mod:`scheduler.search.climb_process`: a network comes in, levels go out, a line each."""

import os
from typing import cast

from scheduler.activities.network import Network
from scheduler.bound.helper import told
from scheduler.search.climb import climb
from scheduler.search.climb_process import line_of


def main() -> None:
    """Read a network and the lateness that is known, tell each level."""
    net, below, seed = cast("tuple[Network, int, int]", told())
    last = ""
    for level in climb(net, below, seed):
        line = line_of(level)
        if line != last:
            last = line
            print(line, flush=True)
    os._exit(0)


if __name__ == "__main__":
    main()
