"""After a lost day, a lost bay, an ill sprayer: how fast a valid repair is there, and what the three choices cost and move.

python -m tests.benchmarks.bench_replan                          # 40, 120 and 400 units, ten seeds each: over an hour
python -m tests.benchmarks.bench_replan --short                  # two seeds of 40 and 120 units: a few minutes
python -m tests.benchmarks.bench_replan --sizes XL --seeds 4-6   # a part; runs that are there already are kept

``reports/benchmarks`` holds the runs as ``replan.json`` and all of them as a table, ``replan.md``. A shop is planned with counted
moves first, so that the plan that people were told is the same on every machine.
"""

import argparse
import json
import time
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Final

from scheduler.pipeline import NoScheduleError, Plan
from scheduler.replan.choices import Wish, replan
from scheduler.replan.writing import Choice
from scheduler.search.settings import Settings
from tests.benchmarks.families import family
from tests.benchmarks.machine import machine
from tests.benchmarks.mishaps import EVENTS, happened, told
from tests.benchmarks.replan_table import replan_table

REPORTS: Final = Path("reports") / "benchmarks"
FAMILIES: Final = {"M": "M-many-tight-indoor-large", "L": "L-many-tight-indoor-large", "XL": "XL-many-tight-indoor-large"}
TOLD_MOVES: Final = {"M": 8000, "L": 10000, "XL": 10000}
LIMIT_S: Final = 8.0
"""For all three choices, writing included, as the command has it."""


@dataclass(frozen=True)
class Row:
    """What one event did to one shop; without choices where no way on was found.

    Attributes
    ----------
    repair_s, repair_cpu_s : float
        Search of the repair; the second without what other programs took.
    choices_s, choices_cpu_s : float
        From the shop as it stands to three checked schedules.
    broken : int
        Units that cannot stay where they were told, whatever is done.
    late, moved : dict of str to number
        By choice.
    frontier : tuple of (int, int)
        Units that move, weighted days late.
    says : str
        Why there is no way on.
    """

    size: str
    seed: int
    event: str
    repair_s: float = 0.0
    choices_s: float = 0.0
    choices_cpu_s: float = 0.0
    broken: int = 0
    late: dict[str, float] = field(default_factory=dict)
    moved: dict[str, int] = field(default_factory=dict)
    frontier: tuple[tuple[int, int], ...] = ()
    says: str = ""


def measured(size: str, seed: int, event: str, made: Plan) -> Row:
    """Repair and the three choices."""
    shop, began, cpu = happened(made, event), time.perf_counter(), time.process_time()
    try:
        found = replan(shop, made.schedule, Wish(Settings(seed=seed, time_limit_s=LIMIT_S)))
    except NoScheduleError as none:
        return Row(size, seed, event, choices_s=time.perf_counter() - began, says=str(none))
    took_s, took_cpu_s = time.perf_counter() - began, time.process_time() - cpu
    by_name: dict[str, Choice] = {choice.name: choice for choice in found.choices}
    late = {name: choice.plan.schedule.goals[0].value for name, choice in by_name.items()}
    moved = {name: len(choice.moved) for name, choice in by_name.items()}
    first_s = found.choices[0].search_s
    return Row(size, seed, event, first_s, took_s, took_cpu_s, len(found.broken), late, moved, found.frontier)


def main() -> None:
    """Read the command line, measure what is asked for, write everything that is there."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sizes", default="M,L,XL")
    parser.add_argument("--seeds", default="1-10", help="such as 1-10 or 1,4")
    parser.add_argument("--short", action="store_true", help="two seeds of 40 and 120 units")
    parser.add_argument("--out", type=Path, default=REPORTS)
    parser.add_argument("--cpu", action="store_true", help="limits and figures in processor time: for a machine with other work")
    asked = parser.parse_args()
    if asked.cpu:
        time.perf_counter = time.process_time  # the searches look at it too
    sizes, seeds = ("M,L", "1,2") if asked.short else (asked.sizes, asked.seeds)
    asked.out.mkdir(parents=True, exist_ok=True)
    for size in sizes.split(","):
        for seed in _seeds(seeds):
            made = told(family(FAMILIES[size]).shop(seed), seed, TOLD_MOVES[size])
            _keep(asked.out, [measured(size, seed, event, made) for event in EVENTS])
    print((asked.out / "replan.md").read_text(encoding="utf-8"))


def _seeds(text: str) -> list[int]:
    first, _, last = text.partition("-")
    return list(range(int(first), int(last) + 1)) if last else [int(seed) for seed in text.split(",")]


def _keep(out: Path, rows: list[Row]) -> None:
    """Put rows to those of earlier runs, in place of the same ones, and write table and data anew."""
    path = out / "replan.json"
    there = json.loads(path.read_text(encoding="utf-8"))["rows"] if path.is_file() else []
    found = {(row["size"], row["seed"], row["event"]): row for row in [*there, *map(asdict, rows)]}
    order = sorted(found, key=lambda key: (list(FAMILIES).index(key[0]), key[1], EVENTS.index(key[2])))
    clock = "processor time" if time.perf_counter is time.process_time else "the clock"
    data = {"machine": machine(), "limit_s": LIMIT_S, "by": clock, "rows": [found[key] for key in order]}
    path.write_text(json.dumps(data, indent=1) + "\n", encoding="utf-8")
    (out / "replan.md").write_text(replan_table(data), encoding="utf-8")


if __name__ == "__main__":
    main()
