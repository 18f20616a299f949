"""The wheel with compiled modules beside the plain program: the same schedule from the same seed, in how much time."""

import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
FAMILIES = ("M-few-tight-indoor-large", "L-few-tight-indoor-large", "XL-few-tight-indoor-large")
MOVES = 300
RUN = """
import hashlib, json, sys, time
from scheduler.activities.build import build_network
from scheduler.search import chain
from scheduler.search.improve import Improver
from tests.benchmarks.families import family

net = build_network(family(sys.argv[1]).shop(1)).network
began = time.process_time()
improver = Improver(net, 1)
improver.first()
first = time.process_time()
improver.run(lambda moves: moves / int(sys.argv[2]), lambda _better: None)
spent = time.process_time() - first
digest = hashlib.sha256(repr(improver.state.placed()).encode()).hexdigest()
print(json.dumps([chain.__file__, digest, first - began, spent]))
"""


@pytest.fixture(scope="module")
def compiled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the wheel and unpack it."""
    place = tmp_path_factory.mktemp("compiled")
    build = [sys.executable, "-m", "pip", "wheel", "--quiet", "--no-build-isolation", "--no-deps", "-w", str(place), str(ROOT)]
    subprocess.run(build, check=True, env={**os.environ, "COATRUN_COMPILE": "1"}, cwd=ROOT)
    with zipfile.ZipFile(next(place.glob("coatrun-*.whl"))) as wheel:
        wheel.extractall(place / "site")
    return place / "site"


def _run(where: Path, name: str) -> tuple[str, str, float, float]:
    path = os.pathsep.join((str(where), str(ROOT)))
    command = [sys.executable, "-c", RUN, name, str(MOVES)]
    done = subprocess.run(command, check=True, capture_output=True, text=True, env={**os.environ, "PYTHONPATH": path}, cwd=where)
    file, digest, first_s, moves_s = json.loads(done.stdout)
    return file, digest, first_s, moves_s


def test_compiled_and_plain_agree(compiled: Path) -> None:
    """Print one table; the schedules are the same."""
    print("\nfamily  first s plain, compiled  moves/s plain, compiled")
    for name in FAMILIES:
        rows = [[_run(where, name) for _ in range(2)] for where in (ROOT, compiled)]
        assert [Path(runs[0][0]).suffix for runs in rows] == [".py", ".so"]
        assert len({run[1] for runs in rows for run in runs}) == 1
        first, spent = ([min(run[k] for run in runs) for runs in rows] for k in (2, 3))
        print(f"{name}  {first[0]:.3f}, {first[1]:.3f}  {MOVES / spent[0]:.0f}, {MOVES / spent[1]:.0f}")
