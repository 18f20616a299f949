"""Write a shop as a folder that reads back to the same shop."""

import csv
import io
import json
from collections.abc import Iterable, Sequence
from pathlib import Path
from zoneinfo import ZoneInfo

from scheduler.shop.cell_text import cell_text, toml_text
from scheduler.shop.data_package import data_package
from scheduler.shop.fields import Row
from scheduler.shop.shop import Shop
from scheduler.shop.site import Site
from scheduler.shop.tables import PACKAGE_FILE, SITE_FILE, TABLES, TYPICAL_YEAR
from scheduler.shop.typed_rows import NONE_WORD, clearable


def write_shop(shop: Shop, folder: Path) -> None:
    """Write settings, tables and their description; files of these names are overwritten.

    Parameters
    ----------
    shop : Shop
        A valid shop.
    folder : Path
        Made if it is not there.

    Raises
    ------
    ValueError
        If there is a typical year and the settings name no file for it.
    OSError
        If the folder cannot be written.
    """
    if shop.typical_year and not shop.site.typical_year:
        msg = "the shop has a typical year: name its file in site.typical_year"
        raise ValueError(msg)
    folder.mkdir(parents=True, exist_ok=True)
    _write(folder / SITE_FILE, site_text(shop.site))
    for table in TABLES.values():
        file = shop.site.typical_year if table.name == TYPICAL_YEAR else table.file
        if file:
            _write(folder / file, table_text(table.row, getattr(shop, table.name), shop.site.tz))
    _write(folder / PACKAGE_FILE, package_text(shop.site))


def package_text(site: Site) -> str:
    """Text of ``datapackage.json``."""
    return json.dumps(data_package(site.name, site.typical_year), indent=2, ensure_ascii=False) + "\n"


def site_text(site: Site) -> str:
    """Text of ``site.toml``, every setting with what it means beside it."""
    lines = [f"# Settings of the site. Times without an offset are those of the clock in {site.zone}."]
    for key, info in Site.model_fields.items():
        meaning = f"  # {info.description}" if info.description else ""
        lines.append(f"{key} = {toml_text(getattr(site, key), site.tz)}{meaning}")
    return "\n".join(lines) + "\n"


def table_text(model: type[Row], rows: Sequence[Row], tz: ZoneInfo) -> str:
    """Text of a CSV file with every column of the model."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    columns = list(model.model_fields)
    writer.writerow(columns)
    writer.writerows(_cells(model, row, columns, tz) for row in rows)
    return out.getvalue()


def _cells(model: type[Row], row: Row, columns: Iterable[str], tz: ZoneInfo) -> list[str]:
    cleared = clearable(model)
    values = ((column, getattr(row, column)) for column in columns)
    return [NONE_WORD if v is None and c in cleared else cell_text(v, tz, with_offset=c == "at") for c, v in values]


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="\n")
