"""Help, README and start-up: what a person sees before anything is done."""

import re
import subprocess
import sys
from pathlib import Path

import click
import pytest

from cli.conftest import Planned, Run
from scheduler.cli.app import COMMANDS as IN_ORDER
from scheduler.cli.app import GROUPS, app
from scheduler.cli.exit_codes import MEANINGS, ExitCode

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
COMMANDS = sorted(IN_ORDER)
HEAVY = ("pydantic", "numpy", "pandas", "ortools", "plotly", "scipy", "highspy", "jinja2", "rich")


def test_the_commands_are_these() -> None:
    """Prove that no command is lost or added without a word here."""
    assert COMMANDS == [
        "check",
        "compare",
        "completion",
        "convert",
        "dates",
        "day",
        "demo",
        "doctor",
        "feed",
        "goal-costs",
        "holds",
        "many",
        "material",
        "new",
        "paper",
        "plan",
        "quote",
        "record",
        "replan",
        "what-if",
        "why",
    ]


@pytest.mark.parametrize("name", COMMANDS)
def test_help_begins_with_examples_that_name_the_command(run: Run, name: str) -> None:
    """Prove that two or three examples come before any explanation."""
    lines = [line.strip() for line in run(name, "--help").stdout.splitlines() if line.strip()]
    assert lines[0].startswith("Usage:")
    assert lines[1] == "Examples:"
    examples = [line for line in lines[2:5] if line.startswith("coatrun ")]
    assert 2 <= len(examples) <= 3
    assert all(f"coatrun {name}" in line for line in examples)


@pytest.mark.parametrize("name", COMMANDS)
def test_examples_can_be_typed(name: str) -> None:
    """Prove that the examples of a command parse: a renamed option would leave its example behind."""
    command = app.get_command(click.Context(app), name)
    assert command is not None
    examples = re.findall(rf"^  coatrun {name} ?(.*)$", command.help or "", re.MULTILINE)
    for example in [e.partition(" >")[0] for e in examples if "&&" not in e] + (["--out x"] if name == "demo" else []):
        command.make_context(name, example.split())


@pytest.mark.parametrize("name", COMMANDS)
def test_help_ends_with_every_exit_code(run: Run, name: str) -> None:
    """Prove that the codes stand in the help of each command with their meaning."""
    text = run(name, "--help").stdout
    for code, meaning in MEANINGS.items():
        assert re.search(rf"^\s+{code.value}\s+{re.escape(meaning)}$", text, re.MULTILINE), code


def test_exit_codes_have_the_documented_numbers() -> None:
    """Prove the numbers that scripts of others rely on."""
    numbers = {code.name: code.value for code in ExitCode}
    assert numbers == {"DONE": 0, "REFUSED": 1, "USAGE": 2, "BAD_INPUT": 3, "NO_SCHEDULE": 4, "INTERNAL": 70, "INTERRUPTED": 130}


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_is_in_the_readme(name: str) -> None:
    """Prove that the README names each command."""
    commands = README.partition("## Commands")[2].partition("\n## ")[0]
    assert re.search(rf"`{name}[ `,]", commands)


@pytest.mark.parametrize("code", list(ExitCode))
def test_every_exit_code_is_in_the_readme(code: ExitCode) -> None:
    """Prove that the README says what each exit code means."""
    codes = README.partition("Exit codes: ")[2].partition("\n\n")[0]
    assert re.search(rf"(^|[\s]){code.value} [a-z]", codes)


@pytest.mark.parametrize(
    "args", [(), ("nonsense",), ("plan",), ("plan", "x", "--time-limit", "nan"), ("plan", "x", "--seed", "-1")]
)
def test_wrong_typing_is_exit_code_2(run: Run, args: tuple[str, ...]) -> None:
    """Prove that a mistake in the command itself is told apart from bad input."""
    assert run(*args).exit_code == ExitCode.USAGE


def test_version(run: Run) -> None:
    """Prove that the version can be asked for."""
    result = run("--version")
    assert result.exit_code == 0
    assert result.stdout.startswith("coatrun")


def loaded(*args: str) -> set[str]:
    """Top-level modules that a command leaves loaded in a process of its own."""
    code = (
        "import sys\n"
        "from scheduler.cli import main\n"
        f"sys.argv[1:] = {list(args)!r}\n"
        "try:\n    main()\n"
        "except SystemExit as end:\n    assert not end.code, end.code\n"
        "print('LOADED', *{name.partition('.')[0] for name in sys.modules})\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    return set(done.stdout.rpartition("LOADED")[2].split())


@pytest.mark.parametrize("args", [("--help",), ("plan", "--help")])
def test_help_loads_nothing_heavy(args: tuple[str, ...]) -> None:
    """Prove that help does not wait for libraries that it does not need."""
    assert loaded(*args).isdisjoint(HEAVY)


def test_dates_load_nothing_heavy(original: Planned) -> None:
    """Prove that an answer from a saved schedule needs no more than the standard library and the command line's parser."""
    assert loaded("dates", str(original.schedule)).isdisjoint(HEAVY)


def test_a_command_loads_no_other(planned: Planned) -> None:
    """Prove that asking for dates loads the command for them alone: the others would cost more than the answer."""
    code = (
        "import sys; from scheduler.cli.app import app\n"
        f"sys.argv = ['coatrun', 'dates', {str(planned.report)!r}]\n"
        "try:\n    app()\nexcept SystemExit as end:\n    assert not end.code\n"
        "names = {name.replace('-', '_') for name in __import__('scheduler.cli.app', fromlist=['COMMANDS']).COMMANDS}\n"
        "assert {n for n in names if f'scheduler.cli.{n}' in sys.modules} == {'dates'}\n"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert found.returncode == 0, found.stderr


def test_the_commands_stand_in_groups_by_who_types_them(run: Run) -> None:
    """Prove that each group has its head and its commands under it, and that no command is in two."""
    shown = run("--help").stdout
    assert len(set(COMMANDS)) == len(COMMANDS)
    for head, names in GROUPS.items():
        under = shown.partition(f"\n{head}:\n")[2].partition("\n\n")[0]
        assert re.findall(r"^  ([a-z][a-z-]*) ", under, re.MULTILINE) == list(names)
