"""A command: examples first in its help, an answer for every exception, JSON if it is asked for; never a traceback."""

from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import Final, ParamSpec

import click

from scheduler.cli.exit_codes import EPILOG
from scheduler.cli.failed import Failed, failure_of
from scheduler.cli.help_text import help_text
from scheduler.cli.interrupt import let_commands_answer
from scheduler.cli.talk import say, show_json

P = ParamSpec("P")
PATH: Final = click.Path(path_type=Path)
"""A path that the command itself looks into, so that its faults are told in one way."""

as_json: Final = click.option("--json", "as_json", is_flag=True, help="Write one JSON document to standard output.")


def command(name: str, short: str, examples: tuple[str, ...], more: str = "") -> Callable[[Callable[P, None]], click.Command]:
    """Make a command of a function whose option ``as_json`` asks for JSON.

    Parameters
    ----------
    name : str
    short : str
        What it does, in a sentence.
    examples : tuple of str
        Lines that a person may type, shown first in the help.
    more : str
        What else there is to know, after the sentence.
    """

    def wrap(body: Callable[P, None]) -> click.Command:
        shown = help_text(examples, f"{short}\n\n{more}".strip())
        return click.command(name, help=shown, short_help=short, epilog=EPILOG)(_answering(name, body))

    return wrap


def _answering(name: str, body: Callable[P, None]) -> Callable[P, None]:
    @wraps(body)
    def run(*args: P.args, **kwargs: P.kwargs) -> None:
        let_commands_answer()
        try:
            body(*args, **kwargs)
        except (click.exceptions.Exit, click.ClickException, click.Abort, BrokenPipeError):
            raise
        except (KeyboardInterrupt, Exception) as error:
            failed = failure_of(error)
            _tell(name, failed, as_json=bool(kwargs.get("as_json")))
            raise click.exceptions.Exit(failed.code.value) from None

    return run


def _tell(name: str, failed: Failed, *, as_json: bool) -> None:
    say(failed.says)
    if as_json:
        show_json(name, failed.code, failed.data)
