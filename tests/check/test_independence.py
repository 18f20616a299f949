"""The checker shares no code with the planner: it reads the shop, the physics, the schedule and the names of the rules."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import scheduler.check

ALLOWED = ("scheduler.check", "scheduler.shop", "scheduler.physics", "scheduler.schedule", "scheduler.rules")
FILES = sorted(Path(scheduler.check.__file__).parent.glob("*.py"))


def _imports(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.module or ""


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_file_of_the_checker_imports_nothing_of_the_planner(path: Path) -> None:
    """Only the packages below the planner, and no solver."""
    ours = [name for name in _imports(path) if name.split(".")[0] == "scheduler"]
    assert [name for name in ours if not name.startswith(ALLOWED)] == []
    assert not {name.split(".")[0] for name in _imports(path)} & {"ortools", "highspy"}
