"""Ctrl-C before a command has begun to work: one line and its exit code, however early it comes.

Imported before all else, so it imports next to nothing itself.
"""

import os
import signal

STOPPED = "coatrun: stopped; nothing was written"
CODE = 130
"""As a shell counts a program that Ctrl-C ended; the exit codes of the commands take it from here."""


def stop_at_once() -> None:
    """Answer Ctrl-C by ending: while the program is loaded there is nothing to keep and no one to catch an exception."""
    signal.signal(signal.SIGINT, _end)


def let_commands_answer() -> None:
    """Answer Ctrl-C by an exception again, which a command can tell of and clean up after."""
    if signal.getsignal(signal.SIGINT) is _end:
        signal.signal(signal.SIGINT, signal.default_int_handler)


def _end(_number: int, _frame: object) -> None:
    os.write(2, f"{STOPPED}\n".encode())
    os._exit(CODE)
