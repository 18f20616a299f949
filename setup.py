"""The build: what stands in pyproject.toml, and with COATRUN_COMPILE=1 the busiest modules of the search compiled ahead of time.

    make compiled

Compiled or not, the same seed gives the same schedule; tests/benchmarks/bench_compiled.py holds both beside each other. It
takes a C compiler and mypy; the plain build needs neither.
"""

import os
from pathlib import Path

from setuptools import Extension, setup

BUSY = (
    "bay_choice",
    "booking",
    "chain",
    "crew_choice",
    "energy",
    "holding",
    "hours",
    "insertion",
    "latest",
    "moves",
    "openings",
    "own_clash",
    "pickup",
    "planes",
    "starts",
    "stock_choice",
    "taking",
    "tighten",
)
"""Modules that a move goes through."""


def busy_modules() -> list[Extension]:
    """Extensions of the busy modules; none unless they are asked for."""
    if os.environ.get("COATRUN_COMPILE") != "1":
        return []
    from mypyc.build import mypycify

    paths = [str(Path("scheduler", "search", f"{name}.py")) for name in BUSY]
    return mypycify([*paths, str(Path("scheduler", "activities", "masks.py"))], opt_level="3")


setup(ext_modules=busy_modules())
