"""Figures of the demo: time to the first checked schedule, gap after a minute, peak memory, and a saved answer's process time."""

import resource
import subprocess
import sys
import time
from pathlib import Path

from scheduler.pipeline import plan
from scheduler.schedule.store import write_schedule
from scheduler.search.settings import Settings
from scheduler.shop.read import read_shop

COUNTY = Path(__file__).parent.parent.parent / "demo" / "county"


def test_demo(tmp_path: Path) -> None:
    """Print one table; nothing is asserted of the clock."""
    shop = read_shop(COUNTY)
    rows = []
    for seed in (1, 2):
        made = plan(shop, Settings(seed=seed, time_limit_s=20))
        origin = made.schedule.provenance
        reached = next(p.at_s for p in origin.progress if p.objective == made.schedule.goals[0].value)
        rows.append((seed, origin.first_schedule_s, made.schedule.goals[0].value, made.schedule.goals[0].bound, reached))
        write_schedule(made.schedule, tmp_path / "schedule.json")
    print("\nseed  first s  weighted days late  bound  reached after s")
    for row in rows:
        print("{:4d}  {:7.3f}  {:18.0f}  {:5.0f}  {:15.1f}".format(*row))
    print(f"peak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")
    before, began = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run(
        [sys.executable, "-m", "scheduler.cli", "dates", str(tmp_path / "schedule.json")], check=True, capture_output=True
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    spent = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    print(f"dates: {spent:.2f} s of process time, {time.perf_counter() - began:.2f} s on the clock")
