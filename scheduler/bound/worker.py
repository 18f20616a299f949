"""The program behind :mod:`scheduler.bound.background`: a network comes in, bounds go out, a line each."""

import os
from typing import cast

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.bound.bounds import bounds
from scheduler.bound.helper import told


def main() -> None:
    """Read a network and a schedule, tell each better bound."""
    net, placed = cast("tuple[Network, Placed | None]", told())
    best = -1
    for bound in bounds(net, placed):
        if bound > best:
            best = bound
            print(best, flush=True)
    os._exit(0)


if __name__ == "__main__":
    main()
