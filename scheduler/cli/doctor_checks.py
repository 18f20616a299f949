"""What an installation needs and has: each thing with its version, or what is missing without it and how to get it."""

import os
import platform
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Final

_SCRIPTS: Final = {"Latin": "de", "Greek": "el", "Cyrillic": "ru", "Hebrew": "he", "Arabic": "ar", "Chinese": "zh", "Hindi": "hi"}
_LIBRARIES: Final = ("numpy", "pydantic", "openpyxl", "xlsxwriter", "icalendar", "jinja2", "rich")
_WAIT_S: Final = 20


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was looked at.

    Attributes
    ----------
    name : str
    ok : bool
    required : bool
        Whether coatrun does its main job without it.
    says : str
        What was found, or what is missing and how to get it.
    """

    name: str
    ok: bool
    required: bool
    says: str


def findings() -> Iterator[Finding]:
    """Look at everything, one after the other."""
    yield _found("coatrun", _coatrun)
    yield _found("Python", lambda: f"{platform.python_version()} on {platform.system()} {platform.machine()}")
    yield _found("processors", lambda: f"{os.cpu_count() or 1} for the search")
    yield _found("solver", _solver)
    for library in _LIBRARIES:
        yield _found(library, lambda library=library: _imported(library))  # type: ignore[misc]
    yield _found("zone database", _zones)
    yield _found("demo", _demo)
    yield _found("reports", _reports)
    yield _found("PDF", _pdf, required=False, cure="pip install 'coatrun[pdf]', and the system's Pango library")
    yield _found("fonts", _fonts, required=False, cure="install fontconfig and a font such as DejaVu, for PDF and charts")
    yield _found("several machines", lambda: _imported("distributed"), required=False, cure="pip install 'coatrun[cluster]'")
    yield _found("docs site", lambda: version("mkdocs-material"), required=False, cure="pip install 'coatrun[docs]'")
    yield _found("terminal", lambda: f"{sys.stdout.encoding}, {shutil.get_terminal_size((120, 24)).columns} columns")


def _found(name: str, look: Callable[[], str], *, required: bool = True, cure: str = "pip install coatrun again") -> Finding:
    """What ``look`` says; whatever it raises is what is wrong."""
    try:
        return Finding(name, True, required, look())
    except Exception as error:
        why = " ".join(str(error).split())[:150] or type(error).__name__
        state = "missing" if required else "not installed"
        return Finding(name, False, required, f"{state}: {why}; {cure}")


def _coatrun() -> str:
    where = Path(__file__).resolve().parents[1]
    try:
        return f"{version('coatrun')}, from {where}"
    except PackageNotFoundError:
        return f"run from its source, {where}"


def _solver() -> str:
    """Solve the smallest of problems: that a library is there does not say that it runs on this machine."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    x = model.new_int_var(0, 9, "x")
    model.add(x >= 3)
    model.minimize(x)
    solver = cp_model.CpSolver()
    if solver.solve(model) != cp_model.OPTIMAL or solver.value(x) != 3:
        msg = "it does not solve a problem of one variable"
        raise RuntimeError(msg)
    return f"ortools {version('ortools')}, solves"


def _imported(library: str) -> str:
    __import__(library)
    return version(library)


def _zones() -> str:
    from zoneinfo import ZoneInfo, available_timezones

    ZoneInfo("Europe/Berlin")
    return f"{len(available_timezones())} zones"


def _demo() -> str:
    from scheduler.cli.demo_folder import demo_folder

    return str(demo_folder())


def _reports() -> str:
    """Whether a run could write here; nothing is written."""
    place = Path("reports") if Path("reports").is_dir() else Path()
    if not os.access(place, os.W_OK):
        msg = f"{place.resolve()} cannot be written; give another folder with --out"
        raise PermissionError(msg)
    free_gb = shutil.disk_usage(place).free / 1e9
    return f"{(Path() / 'reports').resolve()}, {free_gb:.0f} GB free"


def _pdf() -> str:
    """Set one word: the library alone is not enough, it needs the system's own for letters."""
    import logging

    logging.getLogger("weasyprint").setLevel(logging.CRITICAL)
    from weasyprint import HTML

    data = HTML(string="<p>coatrun</p>").write_pdf() or b""
    if not data.startswith(b"%PDF"):
        msg = "no PDF came out"
        raise RuntimeError(msg)
    return f"weasyprint {version('weasyprint')}, writes PDF"


def _fonts() -> str:
    """Which scripts the installed fonts have letters for, by the languages that fontconfig knows them to cover."""
    found = [script for script, language in _SCRIPTS.items() if _families(language)]
    lacking = [script for script in _SCRIPTS if script not in found]
    if "Latin" not in found:
        msg = "no font has Latin letters"
        raise RuntimeError(msg)
    return f"letters of {', '.join(found)}" + (f"; none of {', '.join(lacking)}" if lacking else "")


def _families(language: str) -> list[str]:
    done = subprocess.run(
        ["fc-list", f":lang={language}", "family"], capture_output=True, text=True, check=True, timeout=_WAIT_S
    )  # fmt: skip
    return done.stdout.splitlines()
