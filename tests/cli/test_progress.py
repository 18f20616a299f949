"""The bar of a search: on a terminal only, with objective and bound."""

import io

import pytest

from scheduler.cli.progress import Shown, Silent, course, figures, on_terminal
from scheduler.search.outcome import News


@pytest.mark.parametrize(
    ("news", "words"),
    [
        (News(0.1, None, 3, 0.0), "no schedule yet"),
        (News(0.1, 12, 3, 0.1), "weighted days late 12, at least 3"),
        (News(0.1, 3, 3, 0.1), "weighted days late 3, at least 3, proven"),
    ],
)
def test_figures_tell_objective_and_bound(news: News, words: str) -> None:
    """Prove that the gap can be read at any moment."""
    assert figures(news) == words


def test_no_bar_without_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove that a log file gets no control characters, and that a dumb terminal is none."""
    stderr = io.StringIO()
    monkeypatch.setattr("sys.stderr", stderr)
    with course("searching", counted=False) as shown:
        assert isinstance(shown, Silent)
        shown.phase("reading")
        for over in (0.1, 0.2):
            shown.news(News(over, 5, 1, over))
    assert stderr.getvalue() == "reading\nsearching\n"


class Terminal(io.StringIO):
    """Text that says it is a terminal."""

    def isatty(self) -> bool:
        """Say so."""
        return True


@pytest.mark.parametrize(("name", "coloured"), [("", True), ("1", False)])
def test_the_bar_shows_figures_and_keeps_to_no_color(monkeypatch: pytest.MonkeyPatch, name: str, coloured: bool) -> None:
    """Prove that the figures move on a terminal, and that NO_COLOR takes every colour out."""
    stderr = Terminal()
    monkeypatch.setattr("sys.stderr", stderr)
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("NO_COLOR", name)
    monkeypatch.delenv("FORCE_COLOR", raising=False)
    monkeypatch.setenv("COLUMNS", "120")
    with course("searching", counted=False) as shown:
        assert isinstance(shown, Shown)
        shown.phase("reading")
        shown.progress.refresh()
        for objective in (12, 7):
            shown.news(News(1.0, objective, 3, 0.5))
            shown.progress.refresh()
    text = stderr.getvalue()
    assert "reading" in text
    assert text.index("weighted days late 12, at least 3") < text.index("weighted days late 7, at least 3")
    assert ("\x1b[38;5" in text or "\x1b[3" in text) is coloured


def test_a_dumb_terminal_is_none(monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove that TERM=dumb is respected."""
    monkeypatch.setattr("sys.stderr", Terminal())
    monkeypatch.setenv("TERM", "dumb")
    assert not on_terminal()
    monkeypatch.setenv("TERM", "xterm")
    assert on_terminal()
