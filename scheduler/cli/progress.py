"""The course of a plan on a terminal: what goes on, the time that has passed, objective and bound as they move."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Final, Protocol

from scheduler.cli.talk import say

if TYPE_CHECKING:
    from rich.progress import Progress, TaskID

    from scheduler.search.outcome import News

GOAL_FIGURES: Final = {
    "lateness": "weighted days late",
    "material": "packs opened",
    "cost": "overtime and hire, hundredths",
    "finish": "working slots until hand-over",
    "even_load": "slots of uneven load",
}
"""What the search counts of the goal that comes first."""


class Course(Protocol):
    """Where a plan tells how far it is."""

    def phase(self, what: str) -> None:
        """Say what goes on now."""

    def news(self, news: "News", /) -> None:
        """Take in a better schedule or bound."""


class Silent:
    """No terminal: one line for each phase, none for the moves of the search."""

    def __init__(self, searching: str) -> None:
        self.searching = searching
        self.began = False

    def phase(self, what: str) -> None:
        """Say what goes on now."""
        say(what)

    def news(self, _news: "News") -> None:
        """Say once that the search has begun."""
        if not self.began:
            say(self.searching)
        self.began = True


class Shown:
    """A bar on the terminal, which fills up only while somebody knows how long it takes.

    Parameters
    ----------
    progress : rich.progress.Progress
    searching : str
        What the search is called.
    counted : bool
        The search counts moves, so that nobody knows how long it takes.
    """

    def __init__(self, progress: "Progress", searching: str, *, counted: bool) -> None:
        self.progress = progress
        self.searching = searching
        self.counted = counted
        self.task: TaskID = progress.add_task("", total=None, figures="")

    def phase(self, what: str) -> None:
        """Say what goes on now; a bar that the search has left part way is full."""
        self.progress.update(self.task, description=what, completed=1.0)

    def news(self, news: "News") -> None:
        """Move the bar and the figures."""
        total, done = (None, 0.0) if self.counted else (1.0, min(1.0, news.over))
        self.progress.update(self.task, description=self.searching, total=total, completed=done, figures=figures(news))


def figures(news: "News") -> str:
    """Objective and bound in words."""
    if news.objective is None:
        return "no schedule yet"
    proven = ", proven" if news.objective <= news.bound else ""
    return f"{GOAL_FIGURES[news.goal]} {news.objective}, at least {news.bound}{proven}"


def on_terminal() -> bool:
    """Whether standard error is a terminal that can move its cursor."""
    return sys.stderr.isatty() and os.environ.get("TERM") != "dumb"


@contextmanager
def course(searching: str, *, counted: bool) -> Iterator[Course]:
    """Show a bar while the block runs, on a terminal only; colours only where ``NO_COLOR`` is not set."""
    if not on_terminal():
        yield Silent(searching)
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    console = Console(stderr=True, highlight=False)
    columns = (
        TextColumn("{task.description}", markup=False),
        BarColumn(bar_width=24),
        TimeElapsedColumn(),
        TextColumn("{task.fields[figures]}", markup=False),
    )
    with Progress(*columns, console=console, transient=True, refresh_per_second=4) as progress:
        yield Shown(progress, searching, counted=counted)
