"""The machine that figures were measured on: what matters for speed, nothing that tells whose it is."""

import os
import platform
from importlib.metadata import version
from pathlib import Path


def machine() -> dict[str, object]:
    """Processor, cores that may be used, memory, Python and solvers."""
    return {
        "processor": _processor(),
        "cores": len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count(),
        "memory_gb": round(os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 2**30, 1),
        "system": platform.system(),
        "python": platform.python_version(),
        "ortools": version("ortools"),
        "highs": f"scipy {version('scipy')}",
        "load_before": [round(load, 1) for load in os.getloadavg()],
    }


def _processor() -> str:
    try:
        lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
    except OSError:
        return platform.processor() or platform.machine()
    return next((line.split(":", 1)[1].strip() for line in lines if line.startswith("model name")), platform.machine())
