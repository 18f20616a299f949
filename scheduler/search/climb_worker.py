"""The program behind :mod:`scheduler.search.climb_process`: a network comes in, levels go out, a line each."""

import os
from typing import cast

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.helper import told
from scheduler.search.climb import climb
from scheduler.search.climb_process import line_of
from scheduler.search.value import lateness


def main() -> None:
    """Read a network and the schedule that is known, tell each level."""
    net, known, seed = cast("tuple[Network, Placed, int]", told())
    last = ""
    for level in climb(net, lateness(net, known.start), seed, known=known):
        line = line_of(level)
        if line != last:
            last = line
            print(line, flush=True)
    os._exit(0)


if __name__ == "__main__":
    main()
