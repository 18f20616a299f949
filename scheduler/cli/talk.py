"""What a command says: data on standard output, talk on standard error."""

import json
import shutil
import sys
from collections.abc import Mapping
from io import TextIOWrapper

from scheduler.cli.exit_codes import ExitCode


def show(text: str) -> None:
    """Write data for a person to standard output."""
    sys.stdout.write(f"{text}\n")


def say(text: str) -> None:
    """Write talk to standard error."""
    sys.stderr.write(f"{text}\n")
    sys.stderr.flush()


def show_json(command: str, code: ExitCode, data: Mapping[str, object]) -> None:
    """Write the one JSON document of a command, named by its schema and version."""
    document = {"schema": f"coatrun/{command}/1", "exit_code": code.value, **data}
    show(json.dumps(document, indent=1, allow_nan=False))


def width() -> int:
    """Columns to write in: those of the terminal, of ``COLUMNS``, or 120."""
    return max(40, shutil.get_terminal_size((120, 24)).columns)


def forgive_encodings() -> None:
    """Write a letter that the terminal cannot show as a question mark rather than fail on it."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")
