"""Options of a search as they are typed, and the settings that they make."""

import math
from typing import TYPE_CHECKING, Final

import click

if TYPE_CHECKING:
    from scheduler.search.settings import Settings

DEFAULT_S: Final = 30.0
LONG_S: Final = 86_400.0
"""Limit of a search that counts moves: the clock must not cut it, or it could not be repeated."""


def _seconds(_ctx: click.Context, _param: click.Parameter, seconds: float | None) -> float | None:
    if seconds is not None and not 0 < seconds < math.inf:
        msg = "give a number of seconds above 0"
        raise click.BadParameter(msg)
    return seconds


time_limit: Final = click.option(
    "--time-limit", type=float, metavar="S", callback=_seconds, help=f"Seconds of search; {DEFAULT_S:g} if not given."
)
seed: Final = click.option(
    "--seed",
    type=click.IntRange(0, 2**31 - 1),
    metavar="N",
    default=1,
    help="Another number searches another way; 1 if not given.",
)
moves: Final = click.option(
    "--moves",
    type=click.IntRange(1),
    metavar="N",
    help="Count moves, not seconds: the same seed then gives the same schedule anywhere.",
)
workers: Final = click.option(
    "--workers", type=click.IntRange(1, 128), metavar="N", default=8, help="Workers of the solver; 8 if not given."
)


def _goals(_ctx: click.Context, _param: click.Parameter, text: str | None) -> tuple[str, ...]:
    from scheduler.search.value import GOALS

    names = tuple(name.strip() for name in text.split(",")) if text else ()
    odd = [name for name in names if name not in GOALS]
    if odd or len(set(names)) < len(names):
        msg = f"{', '.join(odd)}: no such goal" if odd else "name each goal once"
        raise click.BadParameter(f"{msg}; the goals are {', '.join(GOALS)}")
    return names


goals: Final = click.option(
    "--goals",
    metavar="LIST",
    callback=_goals,
    help="Goals in the order in which they count, as in material,lateness; lateness,material,cost,finish,even_load if not given. "
    "Those that are left out break ties.",
)


def settings(
    time_limit_s: float | None, seed: int = 1, moves: int | None = None, workers: int = 8, goals: tuple[str, ...] = ()
) -> "Settings":
    """Put the settings of a search together; without a limit given, counted moves have a day."""
    from scheduler.search.settings import Settings

    limit_s = time_limit_s or (DEFAULT_S if moves is None else LONG_S)
    return Settings(seed=seed, time_limit_s=limit_s, moves=moves, workers=workers, goals=goals)
