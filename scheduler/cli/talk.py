"""What a command says: data on standard output, talk on standard error."""

import json
import os
import shutil
import sys
from collections.abc import Mapping
from io import TextIOWrapper
from typing import Final

from scheduler.cli.exit_codes import ExitCode

KEPT: Final = "\n\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}"
"""Letters that count as not printable and belong into a text all the same."""


def show(text: str) -> None:
    """Write data for a person to standard output; with colours on a terminal only."""
    if on_terminal():
        from scheduler.cli.colours import print_coloured

        print_coloured(tame(text))
    else:
        sys.stdout.write(f"{tame(text)}\n")


def on_terminal() -> bool:
    """Whether standard output is a terminal that knows more than plain letters."""
    return sys.stdout.isatty() and os.environ.get("TERM") != "dumb"


def say(text: str) -> None:
    """Write talk to standard error."""
    sys.stderr.write(f"{tame(text)}\n")
    sys.stderr.flush()


def tame(text: str) -> str:
    """Leave out what would steer the terminal: names are typed by people and may hold anything."""
    return "".join(letter if letter.isprintable() or letter in KEPT else " " for letter in text)


def show_json(command: str, code: ExitCode, data: Mapping[str, object]) -> None:
    """Write the one JSON document of a command, named by its schema and version."""
    document = {"schema": f"coatrun/{command}/1", "exit_code": code.value, **data}
    sys.stdout.write(f"{json.dumps(document, indent=1, allow_nan=False)}\n")


def width() -> int:
    """Columns to write in: those of the terminal, of ``COLUMNS``, or 120."""
    return max(40, shutil.get_terminal_size((120, 24)).columns)


def forgive_encodings() -> None:
    """Write a letter that the terminal cannot show as a question mark rather than fail on it."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")
