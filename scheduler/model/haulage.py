"""Rule haulage: trucks are free for each pick-up and drop, and the yard has room."""

from scheduler.model.pools import add_pools, add_presence
from scheduler.model.variables import Variables


def haulage(v: Variables) -> None:
    """Count trucks while they load, and units while they are on the site."""
    trucks = [
        p for p, pool in enumerate(v.net.pools) if pool.rule == "haulage" and not any(p in path.present for path in v.net.paths)
    ]
    if trucks:
        add_pools(v, "haulage")
    add_presence(v, "haulage")
