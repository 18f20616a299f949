"""The report as files: complete, inert, well formed, and never half written."""

import base64
import hashlib
import json
import re
from datetime import timedelta
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import pytest

from documents.sample import sample_schedule, sample_shop
from scheduler.check.breach import Breach, CheckReport
from scheduler.documents.report import report
from scheduler.documents.report.report import write_report
from scheduler.schedule.schedule import Schedule
from scheduler.schedule.store import read_schedule

GOOD = CheckReport(())
NASTY = ("<script>alert(1)</script>", 'O"Neil & <b>sons</b>', "\u05e9\u05dc\u05d5\u05dd {{ 7 * 7 }} %{x}", "W" * 200)


class Outline(HTMLParser):
    """What a browser would see: headings, scripts, attributes."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.headings: list[int] = []
        self.scripts: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self._in_script = False
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep the tag; start a script or heading."""
        self.tags.append((tag, dict(attrs)))
        if re.fullmatch("h[1-6]", tag):
            self.headings.append(int(tag[1]))
        self._in_script = tag == "script"
        if self._in_script:
            self.scripts.append("")

    def handle_endtag(self, tag: str) -> None:
        """Leave a script."""
        self._in_script = False

    def handle_data(self, data: str) -> None:
        """Keep the text of a script."""
        if self._in_script:
            self.scripts[-1] += data


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A report with hostile names."""
    path = tmp_path_factory.mktemp("report") / "run"
    write_report(sample_shop(NASTY), sample_schedule(), GOOD, path)
    return path


def pages(folder: Path) -> list[Path]:
    """All pages of a report."""
    return sorted(folder.glob("*.html"))


def test_the_folder_holds_everything(folder: Path) -> None:
    """The page, the schedule with its schema, dates, lists of material, and sheet and list of each of the five days."""
    days = [f"2025-10-{day}" for day in range(20, 25)]
    kinds = [f"{kind}-{day}.{end}" for kind in ("day", "pick") for day in days for end in ("html", "csv")]
    kinds += [f"crew-{day}.html" for day in days]
    alone = ("index.html", "units.html", "schedule.json", "schedule-schema.json", "dates.csv")
    material = [f"{name}.csv" for name in ("statement", "purchases", "openings", "warmers", "cartridges")]
    assert {p.name for p in folder.iterdir()} == {*alone, *material, *kinds}
    assert read_schedule(folder / "schedule.json") == sample_schedule()
    assert json.loads((folder / "schedule-schema.json").read_text("utf-8")) == Schedule.model_json_schema()


def test_hostile_names_are_text_everywhere(folder: Path) -> None:
    """No page holds a tag that a name brought, no template is run, and every page still shows the names."""
    for path in pages(folder):
        text = path.read_text("utf-8")
        outline = Outline(text)
        assert "<script>alert" not in text, path.name
        assert "<b>sons" not in text, path.name
        assert not [tag for tag, attrs in outline.tags if any(key.startswith("on") for key in attrs)], path.name
    index = (folder / "index.html").read_text("utf-8")
    assert "\\u003cscript\\u003ealert(1)" in index
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in (folder / "units.html").read_text("utf-8")
    assert "{{ 7 * 7 }}" in index
    assert "W" * 200 in index


def test_only_our_own_scripts_may_run(folder: Path) -> None:
    """The policy names the digest of each script in the page and nothing else; pages without scripts allow none."""
    for path in pages(folder):
        outline = Outline(path.read_text("utf-8"))
        policy = next(a["content"] or "" for t, a in outline.tags if a.get("http-equiv") == "Content-Security-Policy")
        kinds = [a.get("type") for t, a in outline.tags if t == "script"]
        run = [s for s, kind in zip(outline.scripts, kinds, strict=True) if kind is None]
        allowed = [f"'sha256-{base64.b64encode(hashlib.sha256(s.encode()).digest()).decode()}'" for s in run]
        assert f"script-src {' '.join(allowed) or repr('none')};" in policy, path.name
        assert "default-src 'none'" in policy


def test_nothing_is_loaded_from_a_network(folder: Path) -> None:
    """No page names an address outside of the folder in a place from which a browser would load."""
    for path in pages(folder):
        loads = [a.get(key) for _, a in Outline(path.read_text("utf-8")).tags for key in ("src", "href") if a.get(key)]
        assert not [link for link in loads if link and re.match(r"(https?:)?//", link)], path.name


def test_links_lead_somewhere(folder: Path) -> None:
    """Every link of the page names a file of the folder or an id of the page."""
    outline = Outline((folder / "index.html").read_text("utf-8"))
    ids = {a["id"] for _, a in outline.tags if a.get("id")}
    for href in [a["href"] or "" for tag, a in outline.tags if tag == "a"]:
        assert href.removeprefix("#") in ids if href.startswith("#") else (folder / href).is_file(), href


def test_pages_can_be_read_with_the_ears(folder: Path) -> None:
    """Language, title, skip link, headings that never jump a level, heads with scope, unique ids."""
    for path in pages(folder):
        text = path.read_text("utf-8")
        outline = Outline(text)
        levels = outline.headings
        ids = [a["id"] for _, a in outline.tags if a.get("id")]
        assert outline.tags[0] == ("html", {"lang": "en"})
        assert levels[0] == 1
        assert levels.count(1) == 1
        assert all(b <= a + 1 for a, b in pairwise(levels)), path.name
        assert all("scope" in a for tag, a in outline.tags if tag == "th"), path.name
        assert len(ids) == len(set(ids)), path.name
        assert 'class="skip" href="#main"' in text
        assert re.search(r"<title>[^<]+</title>", text)


def test_the_state_of_the_plan_says_what_was_checked(folder: Path) -> None:
    """All rules by name, the goals with bound and gap, and how many orders are late."""
    index = (folder / "index.html").read_text("utf-8")
    assert "3 orders with 6 units: 2 on time, 1 late." in index
    assert "all 25 rules hold" in index
    assert "recoat_window" in index
    assert "proven best" in index


def test_a_refused_plan_says_so_on_top(tmp_path: Path) -> None:
    """With the words of the breach, escaped."""
    breach = Breach("recoat_window", ("U1/coat-2",), None, 2.0, "U1 coat-2 starts 2 h too early <img>")
    write_report(sample_shop(), sample_schedule(), CheckReport((breach,), {}, ("lateness is 3, not 2",)), tmp_path / "run")
    index = (tmp_path / "run" / "index.html").read_text("utf-8")
    assert "Do not use this plan: the check found 1 breach of rules and 1 figure not confirmed." in index
    assert "2 h too early &lt;img&gt;" in index
    assert "lateness is 3, not 2" in index


def test_typical_weather_is_marked_wherever_it_matters(tmp_path: Path) -> None:
    """In the state of the plan, at the order, and on the day sheet."""
    write_report(sample_shop(units=20), sample_schedule(20), GOOD, tmp_path / "run")
    index = (tmp_path / "run" / "index.html").read_text("utf-8")
    late = (tmp_path / "run" / "day-2025-11-03.html").read_text("utf-8")
    early = (tmp_path / "run" / "day-2025-10-20.html").read_text("utf-8")
    assert "rest on the weather of a typical year" in index
    assert "All work of this day rests on the weather of a typical year" in late
    assert "typical weather" not in early


def test_a_failure_while_pages_are_made_leaves_the_earlier_report(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pages are made before anything is written."""
    write_report(sample_shop(), sample_schedule(), GOOD, tmp_path / "run")
    before = {p.name: p.read_bytes() for p in (tmp_path / "run").iterdir()}

    def fails(*_: object) -> str:
        raise RuntimeError("no page")

    monkeypatch.setattr(report, "pick_page", fails)
    with pytest.raises(RuntimeError, match="no page"):
        write_report(sample_shop(), sample_schedule(4), GOOD, tmp_path / "run")
    assert {p.name: p.read_bytes() for p in (tmp_path / "run").iterdir()} == before


def test_a_plan_without_work_has_a_report(tmp_path: Path) -> None:
    """An empty schedule gives a page that says so, not an error."""
    empty = sample_schedule().model_copy(update={"work": (), "stays": (), "deliveries": ()})
    files = write_report(sample_shop(), empty, GOOD, tmp_path / "run")
    assert "0 orders with 0 units" in files[0].read_text("utf-8")


def test_what_changed_against_the_plan_before_is_told(tmp_path: Path) -> None:
    """An order that is handed back a day later stands in a chart and in a table; without an earlier plan nothing is said."""
    before = sample_schedule()
    late = before.deliveries[0]
    moved = late.model_copy(update={"delivered_at": late.delivered_at + timedelta(days=1)})
    after = before.model_copy(update={"deliveries": (moved, *before.deliveries[1:])})
    write_report(sample_shop(), after, GOOD, tmp_path / "run", before)
    index = (tmp_path / "run" / "index.html").read_text("utf-8")
    assert "What changed against the plan before" in index
    assert "1 order handed back at another time (1 later, 0 earlier)" in index
    assert "Hand-overs that move" in index
    write_report(sample_shop(), after, GOOD, tmp_path / "run")
    assert "What changed" not in (tmp_path / "run" / "index.html").read_text("utf-8")
