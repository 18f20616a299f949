"""Shops of 12 units: after how many seconds the least lateness is proven, over all sixteen kinds and ten seeds.

python -m tests.benchmarks.bench_proof --limit 10
python -m tests.benchmarks.bench_proof --seeds 1,2 --kinds tight
"""

import argparse
import os
import statistics
import time
from dataclasses import dataclass

from scheduler.activities.build import build_network
from scheduler.activities.network import Network
from scheduler.search.outcome import News
from scheduler.search.settings import Settings
from scheduler.search.solve import solve
from tests.benchmarks.families import SEEDS, families, family
from tests.benchmarks.machine import machine

WITHIN_S = (1.0, 3.0, 10.0)


class _ProvenError(Exception):
    """Ends a search as soon as its bound is reached."""


@dataclass(frozen=True, slots=True)
class Proof:
    """Seconds of the search and of both cores' processors; ``proven`` if the bound was reached."""

    proven: bool
    wall_s: float
    cpu_s: float


def _stop_at_bound(news: News) -> None:
    if news.objective is not None and news.objective <= news.bound:
        raise _ProvenError


def _cpu_s() -> float:
    times = os.times()
    return times.user + times.system + times.children_user + times.children_system


def prove_shop(net: Network, limit_s: float) -> Proof:
    """Search until the least lateness is proven, or for so many seconds."""
    began, cpu = time.perf_counter(), _cpu_s()
    proven = False
    try:
        solve(net, Settings(seed=1, time_limit_s=limit_s), _stop_at_bound)
    except _ProvenError:
        proven = True
    return Proof(proven, time.perf_counter() - began, _cpu_s() - cpu)


def main() -> None:
    """Prove shop after shop, print each and the shares."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.bench_proof")
    parser.add_argument("--limit", type=float, default=10.0, help="seconds for each shop")
    parser.add_argument("--seeds", default=",".join(map(str, SEEDS)))
    parser.add_argument("--kinds", default="", help="part of the families' names, such as tight")
    args = parser.parse_args()
    names = [name for name in families() if name.startswith("S-") and args.kinds in name]
    proofs: list[Proof] = []
    for name in names:
        for seed in map(int, args.seeds.split(",")):
            proof = prove_shop(build_network(family(name).shop(seed)).network, args.limit)
            proofs.append(proof)
            says = "proven" if proof.proven else "not proven"
            print(f"{name} {seed}: {says} after {proof.wall_s:.2f} s, {proof.cpu_s:.2f} s of processors", flush=True)
    shares = (f"{sum(p.proven and p.wall_s <= s for p in proofs)} within {s:g} s" for s in WITHIN_S)
    middle = statistics.median(p.cpu_s for p in proofs)
    print(f"{len(proofs)} shops: {', '.join(shares)}; half of them in {middle:.2f} s of processors; {machine()}")


if __name__ == "__main__":
    main()
