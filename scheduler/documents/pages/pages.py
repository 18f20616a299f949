"""Pages from templates. Everything that comes from a shop is escaped; a page loads nothing and runs only our own scripts."""

import base64
import hashlib
import json
from collections.abc import Iterable
from functools import cache
from importlib.resources import files
from typing import Final

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup, escape

from scheduler.documents.words.direction import ISOLATE, turns_direction

_SCRIPTS: Final = (
    "data", "elements", "time_scale", "chart_bars", "bar_walk", "chart", "chart_tables", "unit_page", "day_page", "unit_list",
    "page",
)  # fmt: skip


def page(template: str, styles: str, scripts: Iterable[str] = (), **values: object) -> str:
    """Render a page.

    Parameters
    ----------
    template : str
        Name of a template.
    styles : str
        Style sheet besides the common one.
    scripts : iterable of str
        Texts of our own scripts, which the page runs; the browser refuses any other.
    **values
        What the template names.
    """
    texts = tuple(scripts)
    hashes = " ".join(f"'sha256-{_digest(script)}'" for script in texts)
    policy = (
        f"default-src 'none'; style-src 'unsafe-inline'; img-src data: blob:; script-src {hashes or repr('none')}; "
        "base-uri 'none'; form-action 'none'"
    )
    style = Markup(
        "".join(template_text(f"{name}.css") for name in ("common", styles))
    )  # our own files, nothing from a shop in it
    runs = [Markup(script) for script in texts]
    return _environment().get_template(template).render(policy=policy, style=style, scripts=runs, **values)


@cache
def template_text(name: str) -> str:
    """Text of a file that lies beside the templates."""
    return files("scheduler.documents.pages").joinpath("templates", name).read_text(encoding="utf-8")


@cache
def report_script() -> str:
    """Our own script of the report: its parts in their order, in a scope of their own."""
    folder = files("scheduler.documents.pages").joinpath("scripts")
    parts = "\n".join(folder.joinpath(f"{name}.js").read_text(encoding="utf-8") for name in _SCRIPTS)
    return f'"use strict";\n(() => {{\n{parts}}})();\n'


@cache
def chart_library() -> str:
    """plotly.js, the basic bundle, to stand in the page."""
    return files("scheduler.documents.pages").joinpath("vendor", "plotly-basic.min.js").read_text(encoding="utf-8")


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=PackageLoader("scheduler.documents.pages"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["name"] = name_html
    environment.filters["compact"] = compact_json
    return environment


def name_html(text: str) -> Markup:
    """Escape a name; one that runs right to left is set apart, so that it cannot turn its neighbours, if it is not yet."""
    safe = escape(text)
    return Markup("<bdi>{}</bdi>").format(safe) if turns_direction(text) and ISOLATE not in text else safe


def compact_json(value: object) -> Markup:
    """Write data without spaces, to stand inside a script element: what could end the element is written as an escape."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    return Markup(text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026"))


def _digest(text: str) -> str:
    return base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii")
