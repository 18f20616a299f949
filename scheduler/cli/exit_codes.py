"""Exit codes, the same for every command, and what they mean to a person."""

from enum import IntEnum
from typing import Final

from scheduler.cli import interrupt


class ExitCode(IntEnum):
    """How a command ended."""

    DONE = 0
    REFUSED = 1
    USAGE = 2
    BAD_INPUT = 3
    NO_SCHEDULE = 4
    INTERNAL = 70
    INTERRUPTED = interrupt.CODE


MEANINGS: Final = {
    ExitCode.DONE: "done",
    ExitCode.REFUSED: "no schedule can keep all rules, or the checker refused one",
    ExitCode.USAGE: "the command was typed wrongly",
    ExitCode.BAD_INPUT: "bad input, or a folder that cannot be used: all faults are listed",
    ExitCode.NO_SCHEDULE: "no schedule was found in the time given",
    ExitCode.INTERNAL: "a fault of coatrun itself; COATRUN_DEBUG=1 shows where",
    ExitCode.INTERRUPTED: "stopped by Ctrl-C before there was anything to write",
}
EPILOG: Final = "\n".join(["\b", "Exit codes:", *(f"  {code.value:<4} {says}" for code, says in MEANINGS.items())])
"""End of every help text."""
