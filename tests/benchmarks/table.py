"""The figures of a run as a text in Markdown."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import astuple

from tests.benchmarks.compare import Pairs, Standing, by_shop, pairs, standings
from tests.benchmarks.one import Measured

STANDING = (
    "size",
    "limit s",
    "method",
    "shops",
    "failed",
    "mean weighted days late",
    "mean packs",
    "proven",
    "above bound / weight",
    "first s",
    "within 1 % s",
    "reached by",
    "peak MB",
)
PAIRED = ("opponent", "shops", "ours", "theirs", "less %", "95 % from", "to", "better on", "equal on")


def markdown(rows: Sequence[Measured], machine: Mapping[str, object], command: str) -> str:
    """Everything a reader needs to judge the figures, failures and conditions included."""
    sizes = dict.fromkeys((s.size, s.limit_s) for s in standings(rows))
    parts = ["# Benchmarks", "", f"`{command}`", "", machine_line(machine), "", "## By size", "", *_standings(standings(rows))]
    parts += [
        "",
        "A failure counts as the worst value of the methods that did not fail on the shop. The bound is the best of any method.",
    ]
    parts += ["", "## Paired on the same shops", ""]
    for size, limit_s in sizes:
        found = pairs(rows, size, limit_s)
        parts += [f"{size}, {limit_s:g} s:", "", *_pairs(found), ""] if found else []
    parts += ["## Shop by shop: weighted days late", "", *_shops(rows), "", *_failures(rows)]
    return "\n".join(parts).rstrip() + "\n"


def table(head: Iterable[str], rows: Iterable[Iterable[object]]) -> list[str]:
    """Lines of a table."""
    columns = tuple(head)
    return [_line(columns), _line("---" for _ in columns), *(_line(_cell(c) for c in row) for row in rows)]


def _line(cells: Iterable[str]) -> str:
    return f"| {' | '.join(cells)} |"


def _cell(value: object) -> str:
    return "-" if value is None else f"{value:g}" if isinstance(value, float) else str(value)


def machine_line(machine: Mapping[str, object]) -> str:
    """Describe the machine in one line."""
    return "; ".join(f"{name.replace('_', ' ')} {value}" for name, value in machine.items())


def _standings(found: Sequence[Standing]) -> list[str]:
    return table(STANDING, (astuple(row) for row in found))


def _pairs(found: Sequence[Pairs]) -> list[str]:
    return table(PAIRED, (astuple(row) for row in found))


def _shops(rows: Sequence[Measured]) -> list[str]:
    methods = list(dict.fromkeys(row.method for row in rows))
    lines = []
    for (family, seed, limit_s), runs in by_shop(rows).items():
        bound = max(row.bound for row in runs.values())
        cells = [_value(runs[m]) if m in runs else None for m in methods]
        lines.append((family, seed, limit_s, next(iter(runs.values())).total_weight, bound, *cells))
    return table(("family", "seed", "limit s", "total weight", "bound", *methods), lines)


def _value(row: Measured) -> object:
    return "failed" if row.lateness is None else row.lateness


def _failures(rows: Sequence[Measured]) -> list[str]:
    failed = [(row.method, row.family, row.seed, row.failure) for row in rows if row.failure]
    return ["## Failures", "", *table(("method", "family", "seed", "why"), failed)] if failed else []
