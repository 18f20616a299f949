"""Published job shops through our own network and search, beside the plain model in the same run, and one published project.

Three ways: the search as a planner has it, with the makespan as lateness; CP-SAT on the makespan with what that found as a
hint; and the plain model without a hint. Each has the same seconds.

python -m tests.benchmarks.published --short
python -m tests.benchmarks.published --limit 20
python -m tests.benchmarks.published --limit 20 --go-on

What is done is written after each instance; ``--go-on`` goes on where a run was stopped.
"""

import argparse
import json
import sys
import threading
import time
from dataclasses import asdict, astuple, dataclass, field, fields
from pathlib import Path

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.search.prove import Answer, Effort, prove
from scheduler.search.settings import Settings
from scheduler.search.solve import solve
from tests.benchmarks.machine import machine
from tests.benchmarks.table import table
from tests.published import INSTANCES, faults_of, job_shop, project

SHORT = ("ft06", "la01", "la05", "la10", "la16", "orb07")
PROJECT = ("j301_1", 43)


@dataclass(frozen=True)
class Solved:
    """What became of an instance: makespan, proven bound and seconds of the search, from its hint, and of the plain model."""

    instance: str
    operations: int
    optimum: int
    search: int | None
    search_bound: int
    search_gap_pct: float | None
    first_s: float | None
    best_s: float | None
    hinted: int | None
    hinted_bound: int
    hinted_s: float
    plain: int | None
    plain_bound: int
    plain_s: float


def both(name: str, limit_s: float) -> Solved:
    """Solve a job shop in each way."""
    net, optimum = job_shop(name)
    outcome = solve(net, Settings(seed=1, time_limit_s=limit_s))
    found = _makespan(net, outcome.placed)
    best_s = next((p.at_s for p in outcome.progress if p.objective == found), None)
    hinted, hinted_s = _model(net, limit_s, outcome.placed)
    plain, plain_s = _model(net, limit_s, None)
    return Solved(
        name,
        len(net.activities),
        optimum,
        found,
        outcome.bounds.lateness,
        None if found is None else round(100 * (found - optimum) / optimum, 2),
        None if outcome.first_schedule_s is None else round(outcome.first_schedule_s, 3),
        best_s,
        _makespan(net, hinted.placed),
        hinted.bound,
        hinted_s,
        _makespan(net, plain.placed),
        plain.bound,
        plain_s,
    )


def _model(net: Network, limit_s: float, hint: Placed | None) -> tuple[Answer, float]:
    began = time.perf_counter()
    answer = prove(net, "makespan", {}, hint, Effort(limit_s, 1, 8), threading.Event())
    return answer, round(time.perf_counter() - began, 2)


def _makespan(net: Network, placed: Placed | None) -> int | None:
    """Makespan, counted apart from the search; a solution that breaks a rule ends the run."""
    if placed is None:
        return None
    faults = faults_of(net, placed)
    if faults:
        raise AssertionError("; ".join(faults))
    return max(start + activity.slots for start, activity in zip(placed.start, net.activities, strict=True))


@dataclass
class Report:
    """What is done so far, written after each instance."""

    where: Path
    about: dict[str, object]
    command: str
    rows: list[Solved] = field(default_factory=list)

    def read(self) -> None:
        """Take in the rows of a run before."""
        if (self.where / "published.json").exists():
            document = json.loads((self.where / "published.json").read_text(encoding="utf-8"))
            self.rows = [Solved(**row) for row in document["runs"]]

    def add(self, row: Solved) -> None:
        """Add a row and write all."""
        print(f"{row.instance}: {row.search}, {row.hinted} and {row.plain}, optimum {row.optimum}", file=sys.stderr, flush=True)
        self.rows.append(row)
        self.write()

    def write(self, last: str = "") -> str:
        """Write JSON and table; return the table."""
        self.where.mkdir(parents=True, exist_ok=True)
        document = {"command": self.command, "machine": self.about, "runs": [asdict(row) for row in self.rows]}
        (self.where / "published.json").write_text(json.dumps(document, indent=1), encoding="utf-8")
        text = markdown(self.rows, self.about, self.command, last)
        (self.where / "published.md").write_text(text, encoding="utf-8")
        return text


def _project_line() -> str:
    name, optimum = PROJECT
    answer, seconds = _model(project(name), 60, None)
    verdict = "proven" if answer.proven else "not proven"
    return f"Project {name}: {answer.objective}, published optimum {optimum}, {verdict}, {seconds} s."


def markdown(rows: list[Solved], about: dict[str, object], command: str, last: str) -> str:
    """Write the table with lines that sum it up."""
    ways = {"search": "the search", "hinted": "the model from its hint", "plain": "the plain model"}
    sums = [f"{len(rows)} job shops.", *(_sum(rows, way, says) for way, says in ways.items())]
    head = tuple(row.name.replace("_", " ") for row in fields(Solved))
    conditions = "; ".join(f"{key.replace('_', ' ')} {value}" for key, value in about.items())
    lines = ["# Published instances", "", f"`{command}`", "", conditions, "", *sums, last, "", *table(head, map(astuple, rows))]
    return "\n".join(lines) + "\n"


def _sum(rows: list[Solved], way: str, says: str) -> str:
    """How many instances a way brought to the optimum, how many it proved, and how far off it is on average."""
    reached = [(value, row) for row in rows if (value := getattr(row, way)) is not None]
    best = sum(value == row.optimum for value, row in reached)
    proven = sum(getattr(row, f"{way}_bound") >= value for value, row in reached)
    off = sum(100 * (value - row.optimum) / row.optimum for value, row in reached) / max(1, len(reached))
    return f"- {says}: {len(reached)} solved, {best} at the optimum, {proven} proven, {off:.2f} % above it on average"


def main() -> None:
    """Solve, write, print."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.published")
    parser.add_argument("--short", action="store_true", help="six of them, four seconds each way")
    parser.add_argument("--instances", help="names with commas between; all if not given")
    parser.add_argument("--limit", type=float, default=20.0, help="seconds each way")
    parser.add_argument("--go-on", action="store_true", help="keep what was written by a run that was stopped")
    parser.add_argument("--out", default=str(Path("reports") / "benchmarks"))
    args = parser.parse_args()
    known = tuple(json.loads((INSTANCES / "job_shops.json").read_text(encoding="utf-8")))
    names = SHORT if args.short else tuple(args.instances.split(",")) if args.instances else known
    report = Report(Path(args.out), machine(), "python -m tests.benchmarks.published " + " ".join(sys.argv[1:]))
    if args.go_on:
        report.read()
    for name in names:
        if name not in {row.instance for row in report.rows}:
            report.add(both(name, 4.0 if args.short else args.limit))
    print(report.write(_project_line()))


if __name__ == "__main__":
    main()
