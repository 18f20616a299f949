"""The docs site: built with warnings as errors, complete, and at home without a network."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from scheduler.documents.site.from_code import ROOT, check_values_page, commands_page, rules_page
from scheduler.documents.site.from_models import schedule_page, tables_page
from scheduler.documents.site.generated import PAGES
from scheduler.documents.site.markdown import cell, table
from scheduler.rules import RULES
from scheduler.shop.site import Site
from scheduler.shop.tables import TABLES

SITE = ROOT / "scheduler" / "documents" / "site"


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site, built; a warning fails every test of this module."""
    out = tmp_path_factory.mktemp("docs") / "site"
    args = [sys.executable, "-m", "mkdocs", "build", "--strict", "-q", "-f", str(SITE / "mkdocs.yml"), "-d", str(out)]
    env = os.environ | {"PYTHONPATH": str(ROOT), "NO_MKDOCS_2_WARNING": "1"}
    done = subprocess.run(args, env=env, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return out


def test_every_page_is_there(site: Path) -> None:
    """Prove that pages written by hand and generated ones are built, and that nothing generated lies about as a file."""
    made = {str(path.relative_to(site)).replace(".html", ".md") for path in site.rglob("*.html")} - {"404.md"}
    by_hand = {str(path.relative_to(SITE / "pages")) for path in (SITE / "pages").rglob("*.md")}
    assert made == by_hand | set(PAGES)
    assert by_hand.isdisjoint(PAGES)


def test_nothing_comes_from_another_server(site: Path) -> None:
    """Prove that no page and no style asks for a font, script, style or picture from outside."""
    asks = re.compile(r"""(?:<(?:script|img|iframe|source)[^>]+src=|<link[^>]+href=|url\()["']?(?:https?:)?//""", re.IGNORECASE)
    assert asks.search('<script src="https://example.org/x.js">')
    assert asks.search("@import url(//example.org/x.css)")
    canonical = re.compile(r'<link rel="canonical"[^>]+>')
    for path in (*site.rglob("*.html"), *site.rglob("*.css")):
        assert not asks.search(canonical.sub("", path.read_text("utf-8"))), path


@pytest.mark.browser
@pytest.mark.parametrize("width", [1280, 390])
def test_pages_open_from_the_disk_without_a_fault(site: Path, chromium: str, width: int) -> None:
    """Prove in a browser that there is no error, no request to elsewhere, and no page wider than the window."""
    from playwright.sync_api import sync_playwright

    told: list[str] = []
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": width, "height": 800})
        page.on("console", lambda message: told.append(message.text) if message.type == "error" else None)
        page.on("pageerror", lambda error: told.append(str(error)))
        page.on("request", lambda request: told.append(request.url) if not request.url.startswith(("file:", "data:")) else None)
        for name in ("index.html", "tutorial.html", "reference/tables.html", "background/check-values.html"):
            page.goto((site / name).as_uri())
            assert page.evaluate("document.documentElement.scrollWidth") <= width, name
        pictures = page.goto((site / "tutorial.html").as_uri()) and page.evaluate(
            "[...document.images].map(i => i.naturalWidth > 0 && i.alt.length > 0)"
        )
        browser.close()
    assert told == []
    assert pictures
    assert all(pictures)


def test_the_references_name_everything() -> None:
    """Prove that no table, column, setting, rule, command or part of a schedule is missing in its page."""
    tables = tables_page()
    for name, of in TABLES.items():
        section = tables.partition(f"\n## {name}\n")[2].partition("\n## ")[0]
        assert all(f"| `{column}` |" in section for column in of.row.model_fields), name
    assert all(f"| `{key}` |" in PAGES["reference/settings.md"]() for key in Site.model_fields)
    rules = rules_page()
    assert all(f"## {name}\n" in rules for name in RULES)
    assert rules.count("In the model: ") == rules.count("Checked: ") == len(RULES)
    assert "## Work\n" in schedule_page()
    assert "psychrolib" in check_values_page()


def test_the_commands_are_those_of_the_program() -> None:
    """Prove that each has a section with its own help."""
    from scheduler.cli.app import COMMANDS

    page = commands_page()
    for name in COMMANDS:
        assert f"\n## coatrun {name}\n\n```text\nUsage: coatrun {name}" in page


def test_words_in_cells_are_no_markup() -> None:
    """Prove that bars, stars and tags in a description stay letters."""
    assert cell("a|b <script> *x* _y_ `z` [l](m)\nnext") == (
        "a&#124;b &#60;script&#62; &#42;x&#42; &#95;y&#95; &#96;z&#96; &#91;l](m) next"
    )
    assert table(("a", "b"), [("1", "2")]) == "| a | b |\n| --- | --- |\n| 1 | 2 |"


@pytest.mark.browser
def test_the_search_works_without_a_server(site: Path, chromium: str) -> None:
    """Prove that a reader who opens the folder finds a word of the trade from any page, and that nothing is fetched."""
    from playwright.sync_api import expect, sync_playwright

    with sync_playwright() as tools:
        browser = tools.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_page()
        outside: list[str] = []
        page.on("request", lambda r: None if r.url.startswith(("file:", "data:", "about:")) else outside.append(r.url))
        page.goto((site / "how-to" / "why.html").as_uri())
        page.locator("input.md-search__input").click()
        page.keyboard.type("flash rust")
        expect(page.locator(".md-search-result__list a").first).to_be_visible()
        expect(page.locator(".md-search-result__meta")).to_contain_text("matching document")
        browser.close()
    assert outside == []
