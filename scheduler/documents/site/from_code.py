"""Reference pages from what rules, commands and tests say of themselves."""

import ast
import re
import subprocess
import sys
from pathlib import Path
from typing import Final

from scheduler.documents.site.markdown import cell, table
from scheduler.rules import RULES

ROOT: Final = Path(__file__).resolve().parents[3]
_WHERE: Final = {"In the model": "model", "Checked": "check"}


def rules_page() -> str:
    """Every rule: what it demands, how the model holds it and how the checker tests it."""
    head = (
        "# Rules\n\nOne rule has one name in the model, the checker, the messages and the tests. The checker imports nothing "
        "that had a hand in making the schedule; it reads clock times and the shop's tables. What it refuses is not written "
        "out.\n"
    )
    return "\n".join([head, *(_rule_section(name) for name in RULES)])


def _rule_section(name: str) -> str:
    rule = RULES[name]
    files = {what: ROOT / "scheduler" / package / f"{name}.py" for what, package in _WHERE.items()}
    lines = [f"{what}: {cell(_says(path, name))}" for what, path in files.items() if path.is_file()]
    demands = f"**{rule.says[:1].upper()}{rule.says[1:]}.**"
    return "\n\n".join([f"## {name}", demands, *lines, f"A breach is told in: {rule.measured_in}.", ""])


def _says(path: Path, rule: str) -> str:
    """First sentence of a file, without the name of the rule before it."""
    text = (ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or "").partition("\n\n")[0]
    return " ".join(text.split()).removeprefix(f"Rule {rule}: ").removeprefix(f"{rule}: ")


def commands_page() -> str:
    """What each command says of itself when it is asked for help."""
    overview = _help()
    listed = overview.partition("Options:")[2].partition("Exit codes:")[0]
    names = re.findall(r"^  ([a-z][a-z-]*) ", listed, re.MULTILINE)
    sections = [f"## coatrun {name}\n\n```text\n{_help(name)}\n```\n" for name in names]
    return "\n".join(["# Commands\n", f"```text\n{overview}\n```\n", *sections])


def _help(*names: str) -> str:
    """Help in a process of its own: this package lies below the command line and imports nothing of it."""
    args = [sys.executable, "-m", "scheduler.cli", *names, "--help"]
    done = subprocess.run(args, capture_output=True, text=True, check=True, cwd=ROOT, timeout=60)
    return done.stdout.rstrip()


def check_values_page() -> str:
    """Values from outside the project that the tests compare with, in the words of the tests."""
    head = (
        "# Check values and sources\n\nWhat the physics and the search are compared with in `tests/reference`: each line is a "
        "test that runs with every change. `from memory` marks a source that was not opened; `common practice, no source` a fact "
        "of the trade without a publication.\n"
    )
    return "\n".join([head, *(_reference(path) for path in sorted((ROOT / "tests" / "reference").glob("test_*.py")))])


def _reference(path: Path) -> str:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    tests = [node for node in tree.body if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")]
    rows = [(cell(_sentence(node.name)), cell(ast.get_docstring(node) or "")) for node in tests]
    title = path.stem.removeprefix("test_").replace("_", " ").capitalize()
    return f"## {title}\n\n{cell(ast.get_docstring(tree) or '')}\n\n{table(('what is compared', 'with what'), rows)}\n"


def _sentence(name: str) -> str:
    return name.removeprefix("test_").replace("_", " ")
