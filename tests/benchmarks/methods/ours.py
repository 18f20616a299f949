"""Our own search with its settings as they are for a planner."""

from scheduler.activities.network import Network
from scheduler.search.settings import Settings
from scheduler.search.solve import solve
from tests.benchmarks.methods.result import Found


def ours(net: Network, limit_s: float, seed: int) -> Found:
    """Search for ``limit_s`` seconds."""
    found = Found()
    outcome = solve(net, Settings(seed=seed, time_limit_s=limit_s))
    found.placed, found.bound = outcome.placed, outcome.bounds.lateness
    for point in outcome.progress:
        if not found.progress or point.objective < found.progress[-1][1]:
            found.progress.append((point.at_s, round(point.objective)))
    found.note = outcome.status.value
    return found
