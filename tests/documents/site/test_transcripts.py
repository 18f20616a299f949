"""A newcomer follows the pages: every command in them is typed, and what it says is what the page shows."""

from pathlib import Path

import pytest

from documents.site.transcripts import PAGES, follow, typed_in

TUTORIAL = "tutorial.md"
HOW_TO = sorted(str(path.relative_to(PAGES)) for path in (PAGES / "how-to").glob("*.md"))


@pytest.mark.parametrize("page", [TUTORIAL, *HOW_TO])
def test_the_commands_of_a_page_do_what_it_says(tmp_path: Path, page: str) -> None:
    """Prove it in an empty folder, one command after the other; ``...`` in a page stands for what may differ."""
    assert follow(page, tmp_path) == []


def test_every_how_to_has_commands_and_the_tutorial_goes_the_whole_way() -> None:
    """Prove that no page is only talk, and that the tutorial looks, plans, asks, breaks and changes."""
    assert all(typed_in(page) for page in HOW_TO)
    words = [typed.command.split()[1] for typed in typed_in(TUTORIAL) if typed.command.startswith("coatrun ")]
    assert list(dict.fromkeys(words)) == ["doctor", "demo", "dates", "day", "new", "check", "plan"]


def test_a_page_that_is_wrong_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove that the comparison can fail: another output, and a command that ends with an error."""
    (tmp_path / "pages").mkdir()
    (tmp_path / "pages" / "bad.md").write_text("```console\n$ echo one\ntwo\n$ false\n$ false\n$ echo $?\n1\n```\n")
    monkeypatch.setattr("documents.site.transcripts.PAGES", tmp_path / "pages")
    wrong = follow("bad.md", tmp_path / "place")
    assert [text.split("\n")[0] for text in wrong] == ["$ echo one", "$ false"]
