"""The settings of a site from ``site.toml``, with a fault for every setting that is wrong."""

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final
from zoneinfo import ZoneInfo

from pydantic import ValidationError

from scheduler.shop.cell_errors import explain
from scheduler.shop.faults import Fault, choose
from scheduler.shop.moments import zone_of
from scheduler.shop.site import Site
from scheduler.shop.tables import SITE_FILE
from scheduler.shop.text_file import Unreadable, read_text

_KEY: Final = re.compile(r'^\s*"?([A-Za-z0-9_-]+)"?\s*=')
_LINE: Final = re.compile(r"\(at line (\d+), column \d+\)")


@dataclass(frozen=True, slots=True)
class SiteFile:
    """Settings as far as they could be read: None if one is wrong, and the line of each."""

    site: Site | None = None
    faults: tuple[Fault, ...] = ()
    lines: Mapping[str, int] = field(default_factory=dict)
    zone: ZoneInfo = field(default_factory=lambda: ZoneInfo("UTC"))


def read_site(folder: Path) -> SiteFile:
    """Read ``site.toml`` of a shop folder; faults are in the result, none is raised."""
    try:
        text = read_text(folder / SITE_FILE)
        settings = tomllib.loads(text)
    except Unreadable as error:
        return SiteFile(faults=(error.fault,))
    except tomllib.TOMLDecodeError as error:
        return SiteFile(faults=(_not_toml(error),))
    lines = {found[1]: number for number, line in enumerate(text.splitlines(), 1) if (found := _KEY.match(line))}
    return site_of(settings, lines)


def site_of(settings: Mapping[str, Any], lines: Mapping[str, int]) -> SiteFile:
    """Validate settings by name; ``lines`` says where each stands. Faults are in the result, none is raised."""
    zone = zone_of(settings.get("zone"))
    unknown = tuple(_unknown(settings, lines))
    known = {key: value for key, value in settings.items() if key in Site.model_fields}
    try:
        site = Site.model_validate(known, context={"zone": zone})
    except ValidationError as error:
        wrong = (_fault(known, lines, e) for e in error.errors(include_url=False))
        return SiteFile(None, (*unknown, *wrong), lines, zone or ZoneInfo("UTC"))
    return SiteFile(site, unknown, lines, site.tz)


def _not_toml(error: tomllib.TOMLDecodeError) -> Fault:
    place = _LINE.search(str(error))
    cure = 'write name = value, text in double quotes: zone = "Europe/Berlin"'
    return Fault(SITE_FILE, int(place[1]) if place else None, None, None, f"no valid TOML ({error})", cure)


def _unknown(settings: Mapping[str, Any], lines: Mapping[str, int]) -> Iterator[Fault]:
    free = [key for key in Site.model_fields if key not in settings]
    for key in settings:
        if key not in Site.model_fields:
            yield Fault(SITE_FILE, lines.get(key), key, None, "unknown setting", choose(key, free, "delete it"))


def _fault(settings: Mapping[str, Any], lines: Mapping[str, int], error: Any) -> Fault:  # noqa: ANN401 - the library's own record
    key = str(error["loc"][0])
    if error["type"] == "missing":
        return Fault(SITE_FILE, None, key, None, "the setting is missing", f"add a line {key} = ...")
    value = str(settings[key])
    problem, cure = explain(error["type"], error.get("ctx", {}), value, error["msg"])
    return Fault(SITE_FILE, lines.get(key), key, value, problem, cure)
