"""Run the benchmarks: every method on every shop of a plan, one process each, one after the other.

python -m tests.benchmarks.run --short
python -m tests.benchmarks.run --families M-few-tight-indoor-large --seeds 1,2 --limit 20 --methods "coatrun,due date"
"""

import argparse
import json
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

from tests.benchmarks.chart import write_chart
from tests.benchmarks.families import SEEDS, family
from tests.benchmarks.machine import machine
from tests.benchmarks.methods import METHODS
from tests.benchmarks.one import Measured
from tests.benchmarks.plans import FULL, SHORT, Part
from tests.benchmarks.table import markdown

REPORTS = Path("reports") / "benchmarks"
GRACE_S = 600.0
"""Time beyond the limit that a process may take to build, write out and check before it counts as failed."""


def main() -> None:
    """Read the arguments, run, write."""
    args = _arguments()
    where, about, rows = Path(args.out), machine(), []
    where.mkdir(parents=True, exist_ok=True)
    command = "python -m tests.benchmarks.run " + " ".join(a if " " not in a else f'"{a}"' for a in sys.argv[1:])
    for row in _measured(_plan(args)):
        rows.append(row)
        result = "failed" if row.lateness is None else f"{row.lateness:g} weighted days late"
        print(
            f"{row.family} {row.seed} {row.method}: {result} in {row.search_s:.1f} s {row.failure or ''}",
            file=sys.stderr,
            flush=True,
        )
        document = {"command": command, "machine": about, "runs": [asdict(r) for r in rows]}
        (where / "runs.json").write_text(json.dumps(document, indent=1), encoding="utf-8")
    text = markdown(rows, about, command)
    (where / "table.md").write_text(text, encoding="utf-8")
    write_chart(rows, where / "chart.html")
    print(text)
    print(f"{where / 'runs.json'}, {where / 'table.md'}, {where / 'chart.html'}", file=sys.stderr)


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.run", description="Run the benchmarks.")
    parser.add_argument("--short", action="store_true", help="a few shops of each size, under ten minutes on two cores")
    parser.add_argument("--full", action="store_true", help="all sizes with ten seeds; many hours")
    parser.add_argument("--families", help="names with commas between, in place of a plan")
    parser.add_argument("--seeds", default=",".join(map(str, SEEDS)), help="numbers with commas between")
    parser.add_argument("--limit", type=float, default=20.0, help="seconds of search")
    parser.add_argument("--methods", default=",".join(METHODS), help="names with commas between")
    parser.add_argument("--out", default=str(REPORTS))
    args = parser.parse_args()
    if sum((args.short, args.full, bool(args.families))) != 1:
        parser.error("give one of --short, --full and --families")
    return args


def _plan(args: argparse.Namespace) -> tuple[Part, ...]:
    if not args.families:
        return SHORT if args.short else FULL
    names, methods = tuple(args.families.split(",")), tuple(args.methods.split(","))
    for name in names:
        family(name)
    return (Part(names, tuple(map(int, args.seeds.split(","))), args.limit, methods),)


def _measured(plan: tuple[Part, ...]) -> Iterator[Measured]:
    for part in plan:
        for name, seed, limit_s, method in part.runs():
            yield _in_a_process(method, name, seed, limit_s)


def _in_a_process(method: str, name: str, seed: int, limit_s: float) -> Measured:
    arguments = [sys.executable, "-m", "tests.benchmarks.one", method, name, str(seed), str(limit_s)]
    weight = sum(order.weight for order in family(name).shop(seed).orders)
    try:
        done = subprocess.run(arguments, capture_output=True, text=True, timeout=limit_s + GRACE_S, check=False)
    except subprocess.TimeoutExpired:
        return Measured(method, name, seed, limit_s, weight, failure=f"not back after {limit_s + GRACE_S:.0f} s")
    if done.returncode != 0:
        last = (done.stderr.strip().splitlines() or ["no message"])[-1]
        return Measured(method, name, seed, limit_s, weight, failure=f"ended with {done.returncode}: {last}")
    return Measured(**json.loads(done.stdout.splitlines()[-1]))


if __name__ == "__main__":
    main()
