"""A planned shop that the tests of the commands share, and a way to run a command."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from shutil import copytree

import pytest
from click.testing import CliRunner, Result
from random_shop import random_shop

from scheduler.cli.app import app
from scheduler.shop.write import write_shop

Run = Callable[..., Result]


@dataclass(frozen=True)
class Planned:
    """A shop folder and the report of it."""

    shop: Path
    report: Path

    @property
    def schedule(self) -> Path:
        """The saved schedule."""
        return self.report / "schedule.json"


def run_command(*args: object) -> Result:
    """Run a command as a person types it; an exception that got through fails the test."""
    result = CliRunner().invoke(app, [str(arg) for arg in args])
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


@pytest.fixture
def run() -> Run:
    """Run a command."""
    return run_command


@pytest.fixture(scope="session")
def original(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    """Two random units, planned once; tests that change something take a copy."""
    place = tmp_path_factory.mktemp("planned")
    write_shop(random_shop(3, 2), place / "shop")
    result = run_command("plan", place / "shop", "--out", place / "reports" / "run", "--moves", 5, "--workers", 1)
    assert result.exit_code == 0, result.stderr
    return Planned(place / "shop", place / "reports" / "run")


@pytest.fixture
def planned(original: Planned, tmp_path: Path) -> Planned:
    """A copy of the planned shop to do with as a test likes."""
    copytree(original.shop, tmp_path / "shop")
    copytree(original.report, tmp_path / "reports" / "run")
    return Planned(tmp_path / "shop", tmp_path / "reports" / "run")
