"""Options of the commands that search a saved plan on in several ways and set the figures beside each other."""

from collections.abc import Callable
from typing import ParamSpec

import click

from scheduler.cli.command import PATH, as_json
from scheduler.cli.limits import seed

P = ParamSpec("P")


def tries(moves: int) -> Callable[[Callable[P, None]], Callable[P, None]]:
    """Give a command the options ``folder``, ``told``, ``moves``, ``seed`` and ``as_json``.

    Parameters
    ----------
    moves : int
        Moves of each search if none are typed.
    """

    def wrap(body: Callable[P, None]) -> Callable[P, None]:
        for option in reversed((_FOLDER, _TOLD, _moves(moves), seed, as_json)):
            body = option(body)
        return body

    return wrap


_FOLDER = click.argument("folder", metavar="DIR", type=PATH)
_TOLD = click.option("--told", metavar="RUN_DIR", type=PATH, help="The run to start from: DIR itself, or reports/<name of DIR>.")


def _moves(moves: int) -> Callable[[Callable[P, None]], Callable[P, None]]:
    says = f"Moves of each search; {moves} if not given."
    return click.option("--moves", metavar="N", type=click.IntRange(1), default=moves, help=says)
