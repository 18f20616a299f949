"""Figures of the demo: time to the first checked schedule, least lateness and when it was reached, peak memory."""

import resource
from pathlib import Path

from scheduler.pipeline import plan
from scheduler.search.settings import Settings
from scheduler.shop.read import read_shop

COUNTY = Path(__file__).parent.parent.parent / "demo" / "county"


def test_demo() -> None:
    """Print one table; nothing is asserted of the clock."""
    shop = read_shop(COUNTY)
    rows = []
    for seed in (1, 2):
        made = plan(shop, Settings(seed=seed, time_limit_s=20))
        origin = made.schedule.provenance
        reached = next(p.at_s for p in origin.progress if p.objective == made.schedule.goals[0].value)
        rows.append((seed, origin.first_schedule_s, made.schedule.goals[0].value, made.schedule.goals[0].bound, reached))
    print("\nseed  first s  weighted days late  bound  reached after s")
    for row in rows:
        print("{:4d}  {:7.3f}  {:18.0f}  {:5.0f}  {:15.1f}".format(*row))
    print(f"peak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")
