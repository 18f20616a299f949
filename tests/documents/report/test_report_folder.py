"""A report is replaced whole or not at all."""

from pathlib import Path

import pytest

from scheduler.documents.report.report_folder import NotAReportError, put_in_place

OLD = {"index.html": "old", "schedule.json": "{}", "day-2025-10-20.html": "old day"}
NEW = {"index.html": "new", "schedule.json": "{}"}


def names(folder: Path) -> set[str]:
    """Names in a folder, hidden ones too."""
    return {entry.name for entry in folder.iterdir()}


def test_a_new_folder_is_made(tmp_path: Path) -> None:
    """Parents too; nothing else is left beside it."""
    files = put_in_place(NEW, tmp_path / "reports" / "run")
    assert [path.read_text(encoding="utf-8") for path in files] == ["new", "{}"]
    assert names(tmp_path / "reports") == {"run"}


def test_an_earlier_report_goes_away_whole(tmp_path: Path) -> None:
    """A day sheet of the old plan does not lie among those of the new one."""
    put_in_place(OLD, tmp_path / "run")
    put_in_place(NEW, tmp_path / "run")
    assert names(tmp_path / "run") == set(NEW)
    assert names(tmp_path) == {"run"}


def test_what_people_put_into_a_report_stays(tmp_path: Path) -> None:
    """Notes and folders of theirs are carried over."""
    put_in_place(OLD, tmp_path / "run")
    (tmp_path / "run" / "notes.txt").write_text("mine", encoding="utf-8")
    (tmp_path / "run" / "photos").mkdir()
    put_in_place(NEW, tmp_path / "run")
    assert names(tmp_path / "run") == {*NEW, "notes.txt", "photos"}


@pytest.mark.parametrize("name", ["no/such/folder.html", "x" * 300])
def test_a_failed_write_leaves_the_earlier_report(tmp_path: Path, name: str) -> None:
    """When a file cannot be written, the old report is as it was and no half of the new one lies about."""
    put_in_place(OLD, tmp_path / "run")
    with pytest.raises(OSError, match=name[:10]):
        put_in_place({**NEW, name: "x"}, tmp_path / "run")
    assert (tmp_path / "run" / "index.html").read_text(encoding="utf-8") == "old"
    assert names(tmp_path) == {"run"}


def test_a_folder_that_holds_something_else_is_left_alone(tmp_path: Path) -> None:
    """Somebody's home folder is not replaced by a report."""
    (tmp_path / "letter.txt").write_text("dear", encoding="utf-8")
    with pytest.raises(NotAReportError, match="holds no report"):
        put_in_place(NEW, tmp_path)
    with pytest.raises(NotAReportError):
        put_in_place(NEW, tmp_path / "letter.txt")
    assert names(tmp_path) == {"letter.txt"}


def test_a_failed_swap_puts_the_earlier_report_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """When the second of the two renames fails, the first is undone."""
    put_in_place(OLD, tmp_path / "run")
    rename = Path.rename

    def fails_for_the_new_one(self: Path, target: Path) -> Path:
        if self.name.endswith(".part"):
            raise OSError("disk is gone")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", fails_for_the_new_one)
    with pytest.raises(OSError, match="disk is gone"):
        put_in_place(NEW, tmp_path / "run")
    assert (tmp_path / "run" / "index.html").read_text(encoding="utf-8") == "old"
    assert names(tmp_path) == {"run"}


def test_printed_sheets_of_the_old_plan_go_away_too(tmp_path: Path) -> None:
    """Nobody is left with the sheet of a plan that does not hold any more; what people have put there stays."""
    put_in_place(OLD, tmp_path / "run")
    ours = ("plan.pdf", "day-2025-10-20.pdf", "crew-2025-10-20-ana.b_c-1.pdf", "units-R.1.pdf", "units-R.1+2.pdf")
    for name in (*ours, "my notes.pdf"):
        (tmp_path / "run" / name).write_bytes(b"%PDF")
    put_in_place(NEW, tmp_path / "run")
    assert names(tmp_path / "run") == {*NEW, "my notes.pdf"}
