"""Ctrl-C at any moment of a command: one line and exit code 130."""

import subprocess
import sys
from pathlib import Path

import pytest

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.interrupt import STOPPED

ROOT = Path(__file__).parents[2]
PRESS = """
import os, signal, sys

class Press:
    def find_spec(self, name, path=None, target=None):
        if name == module:
            os.kill(os.getpid(), signal.SIGINT)

module = sys.argv.pop(1)
sys.meta_path.insert(0, Press())
from scheduler.cli import main
main()
"""


@pytest.mark.parametrize(
    "module", ["scheduler.cli.app", "click", "scheduler.cli.plan", "scheduler.shop.read", "scheduler.pipeline"]
)
def test_ctrl_c_while_a_module_is_loaded(module: str, tmp_path: Path) -> None:
    """Pressed while the program, its parser, a command or what a command needs is loaded: the line, nothing left."""
    args = ("plan", "demo/county", "--out", str(tmp_path / "run"))
    done = subprocess.run([sys.executable, "-c", PRESS, module, *args], capture_output=True, text=True, cwd=ROOT, check=False)
    assert (done.returncode, done.stderr.splitlines()[-1], done.stdout) == (ExitCode.INTERRUPTED, STOPPED, "")
    assert "Traceback" not in done.stderr
    assert not list(tmp_path.iterdir())
