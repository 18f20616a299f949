"""Console transcripts in pages: the commands a reader types, and the output that the page shows."""

import doctest
import os
import re
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

from scheduler.documents.site.from_code import ROOT

PAGES = ROOT / "scheduler" / "documents" / "site" / "pages"
_BLOCK = re.compile(r"^```console\n(.*?)^```", re.DOTALL | re.MULTILINE)
_ASKS_CODE = "echo $?"
SAME = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE


@dataclass(frozen=True, slots=True)
class Typed:
    """A command with its further lines, and what the page shows after it."""

    command: str
    shown: str


def typed_in(page: str) -> list[Typed]:
    """Commands of a page in their order."""
    found = []
    for block in _BLOCK.findall((PAGES / page).read_text(encoding="utf-8")):
        for part in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
            first, *rest = part.splitlines()
            more = [line[2:] if line != ">" else "" for line in rest if line.startswith(">")]
            shown = [line for line in rest if not line.startswith(">")]
            found.append(Typed("\n".join([first, *more]), "".join(f"{line}\n" for line in shown)))
    return found


def _counted(command: str) -> str:
    """Count moves where a page gives a search seconds: people wait by the clock, a test has to end alike every time."""
    if command.startswith("coatrun demo"):  # which counts no moves
        return command
    return re.sub(r"--(?:time-limit|search) [0-9]+", "--moves 40", command)


def follow(page: str, place: Path) -> list[str]:
    """Type the commands of a page in an empty folder; what differs from the page comes back, a text for each."""
    bin_folder = place / "bin"
    bin_folder.mkdir(parents=True)
    for name, module in (("coatrun", "-m scheduler.cli"), ("python3", "")):
        (bin_folder / name).write_text(f'#!/bin/sh\nexec "{sys.executable}" {module} "$@"\n')
        (bin_folder / name).chmod(0o755)
    home = place / "home"
    home.mkdir()
    path = f"{bin_folder}{os.pathsep}{os.environ['PATH']}"
    env = os.environ | {"PATH": path, "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1", "COLUMNS": "120"}
    wrong, code, commands = [], 0, typed_in(page)
    for typed, then in zip(commands, [*commands[1:], None], strict=True):
        if typed.command == _ASKS_CODE:
            got, code = f"{code}\n", 0
        else:
            line = ["bash", "-c", _counted(typed.command)]
            done = subprocess.run(line, cwd=home, env=env, stdout=-1, stderr=-2, text=True, check=False)
            got, code = done.stdout, done.returncode
            if code and (then is None or then.command != _ASKS_CODE):
                wrong.append(f"$ {typed.command}\nended with {code}:\n{got}")
        if typed.shown and not doctest.OutputChecker().check_output(typed.shown, got, SAME):
            wrong.append(f"$ {typed.command}\nthe page shows:\n{typed.shown}\nit said:\n{got}")
    return wrong
