"""Units that could not be done even with the shop to themselves, as far as their chains can tell."""

import numpy as np

from scheduler.activities.network import Network
from scheduler.bound.relaxation import Relaxation


def stranded(net: Network) -> str | None:
    """Name a unit of which it is certain that it cannot be done even alone; None if there is none that is certain."""
    relaxation = Relaxation(net)
    stacked = relaxation.pricer.stacked(np.zeros((len(relaxation.capacities.names), net.slots), dtype=np.int64))
    nothing = np.zeros(net.slots, dtype=np.int64)
    for member in relaxation.orders.members:
        costs = relaxation.pricer.costs(member.chain, stacked)
        if relaxation.pricer.cheapest(member.chain, costs, nothing)[1] is None:
            return net.paths[member.units[0]].unit
    return None
