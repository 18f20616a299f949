"""coatrun new and coatrun demo: folders that come with the program."""

import json
import tomllib
from pathlib import Path

import pytest

from cli.conftest import Run
from scheduler.cli import demo_folder
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed

ROOT = Path(__file__).parents[2]


def test_a_new_shop_has_no_faults(run: Run, tmp_path: Path) -> None:
    """Prove that what new writes is what check accepts."""
    answer = json.loads(run("new", tmp_path / "shop", "--json").stdout)
    assert answer["schema"] == "coatrun/new/1"
    assert {"site.toml", "orders.csv", "datapackage.json"} <= set(answer["files"])
    assert run("check", tmp_path / "shop").exit_code == ExitCode.DONE


def test_new_lists_its_files(run: Run, tmp_path: Path) -> None:
    """Prove that a person sees what was written and what to type next."""
    result = run("new", tmp_path / "shop")
    assert str(tmp_path / "shop" / "orders.csv") in result.stdout
    assert f"coatrun check {tmp_path / 'shop'}" in result.stderr


def test_the_demo_is_found_in_a_checkout() -> None:
    """Prove that the demo of the source tree is the one that is planned."""
    assert demo_folder.demo_folder() == ROOT / "demo" / "county"


def test_the_demo_is_found_where_an_installer_has_put_it(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Prove that an installation without a checkout finds the demo in its own list of files."""
    folder = tmp_path / "share" / "coatrun" / "demo" / "county"
    folder.mkdir(parents=True)
    (folder / "site.toml").write_text("", encoding="utf-8")
    info = tmp_path / "lib" / "coatrun-0.dist-info"
    info.mkdir(parents=True)
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: coatrun\nVersion: 0\n", encoding="utf-8")
    (info / "RECORD").write_text("../share/coatrun/demo/county/site.toml,,\n", encoding="utf-8")
    monkeypatch.setattr(demo_folder, "CHECKOUT", tmp_path / "no-checkout")
    monkeypatch.syspath_prepend(str(tmp_path / "lib"))
    assert demo_folder.demo_folder() == folder


def test_the_demo_can_count_moves(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Prove that moves and seed of the demo reach the search: the same two give the same plan, on a small shop in its place."""
    run("new", tmp_path / "shop")
    monkeypatch.setattr("scheduler.cli.demo.demo_folder", lambda: tmp_path / "shop")
    words = ("--moves", "5", "--seed", "3", "--json")
    plans = [json.loads(run("demo", "--out", tmp_path / name, *words).stdout) for name in ("a", "b")]
    assert plans[0]["goals"] == plans[1]["goals"]
    written = json.loads((tmp_path / "a" / "schedule.json").read_text("utf-8"))["provenance"]
    assert written["seed"] == 3


def test_a_demo_that_is_nowhere_is_told_with_the_places(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Prove that a person hears where it was looked for."""
    monkeypatch.setattr(demo_folder, "CHECKOUT", tmp_path / "no-checkout")
    monkeypatch.setattr(demo_folder, "_installed", lambda: iter((tmp_path / "no-share",)))
    with pytest.raises(Failed, match=r"no-checkout.*no-share") as failed:
        demo_folder.demo_folder()
    assert failed.value.code is ExitCode.BAD_INPUT


def test_the_wheel_takes_the_demo_to_where_it_is_looked_for() -> None:
    """Prove that packaging and program agree on the place."""
    files = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["setuptools"]["data-files"]
    place = demo_folder.INSTALLED.rpartition("/")[0]
    assert files[place] == ["demo/county/*"]
