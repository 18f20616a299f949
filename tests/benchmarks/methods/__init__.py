"""Ways to make a schedule of the same network: ours and the opponents; all are judged by the one checker."""

from collections.abc import Callable, Mapping
from functools import partial
from typing import Final

from scheduler.activities.network import Network
from tests.benchmarks.methods.dispatch import best_of_passes, by_due_date
from tests.benchmarks.methods.ours import ours
from tests.benchmarks.methods.plain_cp_sat import plain_cp_sat
from tests.benchmarks.methods.result import Found
from tests.benchmarks.methods.time_indexed import time_indexed

Method = Callable[[Network, float, int], Found]
"""Takes a network, seconds and a seed."""

METHODS: Final[Mapping[str, Method]] = {
    "coatrun": ours,
    "due date": by_due_date,
    "best of passes": best_of_passes,
    "CP-SAT 2": partial(plain_cp_sat, workers=2),
    "CP-SAT 8": partial(plain_cp_sat, workers=8),
    "time-indexed": time_indexed,
}
OURS: Final = "coatrun"
