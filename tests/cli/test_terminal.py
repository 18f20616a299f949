"""What a terminal gets that a file does not, and what a slip of the fingers is answered with."""

import io
from pathlib import Path

import pytest

from cli.conftest import Planned, Run
from scheduler.cli import talk, text_table
from scheduler.cli.colours import Standing
from scheduler.cli.exit_codes import ExitCode


@pytest.fixture
def terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let standard output be a terminal of 60 columns."""
    monkeypatch.setenv("COLUMNS", "60")
    for module in (talk, text_table):
        monkeypatch.setattr(module, "on_terminal", lambda: True)


@pytest.mark.usefixtures("terminal")
def test_a_table_on_a_terminal_is_ruled_and_fits() -> None:
    """Prove that wide letters count as two columns, and that markup in a name is only letters."""
    text = text_table.text_table(("id", "name"), [("O1", "[red]x[/red]"), ("O2", "\u4e94\u6708" * 40), ("O3", "\x1b[2J")])
    assert "[red]x[/red]" in text
    assert "\x1b" not in text
    assert all(len(line) + sum(c > "\u2fff" for c in line) <= 60 for line in text.splitlines())


def test_words_carry_the_meaning_and_colours_only_mark_them() -> None:
    """Prove which words are marked, and that the letters stay the same."""
    for text, style in (("3 days late", "bad"), ("1 day to spare", "good"), ("typical year", "weak"), ("2 faults in", "bad")):
        marked = Standing()(text)
        assert str(marked) == text
        assert [span.style for span in marked.spans] == [f"stand.{style}"]


@pytest.mark.usefixtures("terminal")
def test_colours_are_switched_off_where_nobody_wants_them(monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove that NO_COLOR leaves no escape, also on a terminal."""
    out = io.StringIO()
    out.isatty = lambda: True  # type: ignore[method-assign]
    monkeypatch.setattr("sys.stdout", out)
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.delenv("NO_COLOR", raising=False)
    talk.show("3 days late")
    assert "\x1b[" in out.getvalue()
    out.truncate(0)
    monkeypatch.setenv("NO_COLOR", "1")
    talk.show("3 days late \x1b[31m")
    assert "\x1b[3" not in out.getvalue()
    assert "3 days late" in out.getvalue()


def test_what_may_have_been_meant(planned: Planned, run: Run) -> None:
    """Prove that a slip in the name of a command, an option, a shop or a run is answered with the nearest one."""
    assert "'plan'" in run("plam", "x").stderr
    assert "--seed" in run("plan", "x", "--sed", "3").stderr
    slip = planned.shop.with_name("shpo")
    result = run("check", slip)
    assert result.exit_code == ExitCode.BAD_INPUT
    assert f"write {planned.shop} if that is meant" in result.stdout
    (planned.shop.parent / "yard.xlsx").write_bytes(b"")
    assert f"write {planned.shop.parent / 'yard.xlsx'}" in run("check", planned.shop.parent / "yrd.xlsx").stdout
    assert f"write {planned.report} if that is meant" in run("dates", planned.report.with_name("rnu")).stderr


def test_the_folder_of_a_run_is_no_shop(planned: Planned, run: Run) -> None:
    """Prove that the likeliest mix-up gets one line and not a fault for every table."""
    result = run("check", planned.report)
    assert result.exit_code == ExitCode.BAD_INPUT
    assert result.stdout.startswith("1 fault: ")
    assert "folder of a run and no shop" in result.stdout


def test_nothing_is_guessed_where_nothing_is_near(run: Run, tmp_path: Path) -> None:
    """Prove that a far name gets the plain answer."""
    assert "if that is meant" not in run("check", tmp_path / "zzz").stdout
