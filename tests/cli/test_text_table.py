"""Tables in plain letters."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.cli.text_table import text_table


def test_columns_line_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove the layout, without blanks at the ends of lines."""
    monkeypatch.setenv("COLUMNS", "80")
    assert text_table(("a", "long"), [("1", ""), ("22", "x")]).splitlines() == ["a   long", "--  ----", "1", "22  x"]


def test_a_wide_cell_goes_on_in_the_next_line(monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove that the widest column gives way, not the narrow ones."""
    monkeypatch.setenv("COLUMNS", "40")
    lines = text_table(("id", "cure"), [("O1", "word " * 20), ("O2", "short")]).splitlines()
    assert all(len(line) <= 40 for line in lines)
    assert [line for line in lines if line.startswith("O2")] == ["O2  short"]


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.text(max_size=90), st.text(max_size=90), st.text(max_size=9)), max_size=5))
def test_any_text_fits_the_terminal_and_steers_nothing(rows: list[tuple[str, str, str]]) -> None:
    """Prove for any letters that no line is wider than the terminal and no control character is left."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("COLUMNS", "60")
        text = text_table(("a", "b", "c"), rows)
    assert all(len(line) <= 60 for line in text.split("\n"))
    assert not any(ord(letter) < 32 or 0x7F <= ord(letter) < 0xA0 for letter in text if letter != "\n")
