"""Units that could not be done even with the shop to themselves, as far as their chains can tell."""

import numpy as np

from scheduler.activities.network import Network
from scheduler.bound.capacity import Capacities
from scheduler.bound.chain import Reach
from scheduler.bound.places import places_of
from scheduler.bound.relaxation import Relaxation


def stranded(net: Network) -> str | None:
    """Name a unit of which it is certain that it cannot be done even alone; None if there is none that is certain."""
    return _without_start(net) or _without_way(net)


def _without_start(net: Network) -> str | None:
    """Name a unit with a step that can start nowhere; this is known before there are chains."""
    reach = Reach(net, Capacities(net))
    for path in net.paths:
        for i in range(path.first, path.last + 1):
            if not any(reach.starts(i, place) for place in places_of(net, net.activities[i].stay)):
                return path.unit
    return None


def _without_way(net: Network) -> str | None:
    relaxation = Relaxation(net)
    stacked = relaxation.pricer.stacked(np.zeros((len(relaxation.capacities.names), net.slots), dtype=np.int64))
    nothing = np.zeros(net.slots, dtype=np.int64)
    for member in relaxation.orders.members:
        costs = relaxation.pricer.costs(member.chain, stacked)
        if relaxation.pricer.cheapest(member.chain, costs, nothing)[1] is None:
            return net.paths[member.units[0]].unit
    return None
