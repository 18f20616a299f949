"""One method on one shop in a process of its own, so that its peak memory is its own; one line of JSON on standard output.

python -m tests.benchmarks.one "CP-SAT 8" M-few-tight-indoor-large 1 20
"""

import json
import resource
import sys
import time
from dataclasses import asdict, dataclass

from scheduler.activities.build import Built, build_network
from scheduler.pipeline import RefusedError, checked
from scheduler.schedule.schedule import Status
from scheduler.search.outcome import Bounds, Outcome
from scheduler.search.settings import Settings
from scheduler.search.value import value_of
from scheduler.shop.shop import Shop
from tests.benchmarks.families import family
from tests.benchmarks.methods import METHODS
from tests.benchmarks.methods.result import Found


@dataclass(frozen=True)
class Measured:
    """What came out of one run.

    ``lateness`` and ``packs`` are as the checker measured them; they are missing where ``failure`` says why.
    """

    method: str
    family: str
    seed: int
    limit_s: float
    total_weight: int
    lateness: float | None = None
    packs: float | None = None
    bound: int = 0
    first_s: float | None = None
    search_s: float = 0.0
    build_s: float = 0.0
    check_s: float = 0.0
    peak_mb: float = 0.0
    progress: tuple[tuple[float, int], ...] = ()
    note: str = ""
    failure: str | None = None


def measure(method: str, name: str, seed: int, limit_s: float) -> Measured:
    """Run a method on a shop and let the checker judge what it found."""
    shop = family(name).shop(seed)
    head = {"method": method, "family": name, "seed": seed, "limit_s": limit_s}
    head["total_weight"] = sum(order.weight for order in shop.orders)
    began = time.perf_counter()
    built = build_network(shop)
    build_s = time.perf_counter() - began
    found = METHODS[method](built.network, limit_s, seed)
    search_s = found.passed_s()
    times = {"build_s": round(build_s, 3), "search_s": round(search_s, 3), "progress": tuple(found.progress), "note": found.note}
    began = time.perf_counter()
    judged = _judge(shop, built, found, Settings(seed=seed, time_limit_s=limit_s))
    times |= {"check_s": round(time.perf_counter() - began, 3)}
    peak_mb = round(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024, 1)
    first_s = found.progress[0][0] if found.progress else None
    return Measured(**head, **times, **judged, bound=found.bound, first_s=first_s, peak_mb=peak_mb)  # type: ignore[arg-type]


def _judge(shop: Shop, built: Built, found: Found, settings: Settings) -> dict[str, object]:
    """Goals as the checker measures them, or why there are none."""
    if found.placed is None:
        return {"failure": found.note or "no schedule"}
    value = value_of(built.network, found.placed)
    bounds = Bounds(0, 0, tuple(0 for _ in built.network.paths))
    outcome = Outcome(Status.FEASIBLE, found.placed, value, bounds, "benchmark", None, found.passed_s())
    try:
        made = checked(shop, built, outcome, found.placed, settings)
    except RefusedError as refused:
        return {"failure": str(refused)}
    goals = made.report.goals
    return {"lateness": goals["lateness"], "packs": goals["material"]}


if __name__ == "__main__":
    method, name, seed, limit_s = sys.argv[1:]
    print(json.dumps(asdict(measure(method, name, int(seed), float(limit_s)))))
