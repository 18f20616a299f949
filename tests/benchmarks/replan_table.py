"""The figures of re-planning as a table: one row an event, and what they come to by size."""

from collections.abc import Iterator, Mapping
from statistics import median
from typing import Any, Final

from scheduler.replan.frontier import thinned
from scheduler.replan.writing import BEST, FEW, REPAIR
from tests.benchmarks.table import machine_line, table

UNITS: Final = {"M": 40, "L": 120, "XL": 400}
Row = Mapping[str, Any]


def replan_table(data: Mapping[str, Any]) -> str:
    """Everything as Markdown."""
    rows = data["rows"]
    parts = [
        "# Re-plans",
        f"{machine_line(data['machine'])}; {data['limit_s']:g} s for three choices, writing included, by {data['by']}.",
        _sums(rows),
    ]
    return "\n\n".join([*parts, _events(rows)]) + "\n"


def _sums(rows: list[Row]) -> str:
    heads = (
        "units", "events", "no way on", "repair s, median", "most", "three choices s, most", "CPU s, most",
        "few: at most a third of best", "at most 10 % later", "both", "broken are more than a third", "few / best moved, median",
    )  # fmt: skip
    sizes = dict.fromkeys(row["size"] for row in rows)
    return "\n".join(table(heads, [_sum(size, [row for row in rows if row["size"] == size]) for size in sizes]))


def _sum(size: str, rows: list[Row]) -> tuple[str, ...]:
    whole = [row for row in rows if {REPAIR, FEW, BEST} <= set(row["late"])]
    third, near = [_third(row) for row in whole], [_near(row) for row in whole]
    both = sum(a and b for a, b in zip(third, near, strict=True))
    forced = sum(3 * row["broken"] > row["moved"][BEST] for row in whole)
    shares = [row["moved"][FEW] / max(1, row["moved"][BEST]) for row in whole]
    return (
        str(UNITS[size]),
        str(len(rows)),
        str(sum(not row["late"] for row in rows)),
        f"{median(row['repair_s'] for row in whole):.3f}",
        f"{max(row['repair_s'] for row in whole):.3f}",
        f"{max(row['choices_s'] for row in whole):.1f}",
        f"{max(row['choices_cpu_s'] for row in whole):.1f}",
        str(sum(third)),
        str(sum(near)),
        str(both),
        str(forced),
        f"{median(shares):.2f}",
    )


def _third(row: Row) -> bool:
    return bool(3 * row["moved"][FEW] <= row["moved"][BEST])


def _near(row: Row) -> bool:
    return bool(row["late"][FEW] <= 1.1 * row["late"][BEST] + 1e-9)


def _events(rows: list[Row]) -> str:
    heads = (
        "units",
        "seed",
        "event",
        "broken",
        "repair s",
        "choices s",
        "late: repair / few / best",
        "moved",
        "frontier: moved→late",
    )
    return "\n".join(table(heads, [_event(row) for row in rows]))


def _event(row: Row) -> tuple[str, ...]:
    late = " / ".join(f"{row['late'][name]:g}" if name in row["late"] else "-" for name in (REPAIR, FEW, BEST))
    moved = " / ".join(str(row["moved"].get(name, "-")) for name in (REPAIR, FEW, BEST))
    ways = " ".join(_points(row)) or row["says"].partition(". Rules")[0]
    times = (f"{row['repair_s']:.3f}", f"{row['choices_s']:.1f}")
    return (str(UNITS[row["size"]]), str(row["seed"]), row["event"], str(row["broken"]), *times, late, moved, ways)


def _points(row: Row) -> Iterator[str]:
    yield from (f"{moved}→{late}" for moved, late in thinned(row["frontier"], 8))
