"""A mark for every row of a shop, so that a schedule can later say which rows have changed since it was made."""

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from pydantic import BaseModel

from scheduler.shop.shop import Shop
from scheduler.shop.tables import SITE_FILE, TABLES

Marks = Mapping[str, Mapping[str, str]]
SITE = "site"
MOST = 8


@dataclass(frozen=True, slots=True)
class TableChange:
    """What differs in one table: keys of rows that are new, gone or say something else."""

    file: str
    new: tuple[str, ...]
    gone: tuple[str, ...]
    other: tuple[str, ...]

    def text(self) -> str:
        """For a person."""
        parts = ((self.other, "changed"), (self.new, "new"), (self.gone, "gone"))
        return f"{self.file}: " + "; ".join(f"{_named(keys)} {word}" for keys, word in parts if keys)


def row_marks(shop: Shop) -> Marks:
    """Marks of all rows by table and key; settings are rows of a table of their own."""
    marks = {name: dict(_of_table(shop, name)) for name in TABLES}
    marks[SITE] = {key: _mark(value) for key, value in shop.site.model_dump(mode="json").items()}
    return marks


def changed_since(before: Marks, shop: Shop) -> tuple[TableChange, ...]:
    """Say which rows differ from the marks of an earlier shop, table by table."""
    now = row_marks(shop)
    found = (_change(name, before.get(name, {}), now.get(name, {})) for name in dict.fromkeys((*now, *before)))
    return tuple(change for change in found if change.new or change.gone or change.other)


def _of_table(shop: Shop, name: str) -> Iterator[tuple[str, str]]:
    columns = TABLES[name].key
    for row in getattr(shop, name):
        yield " ".join(_cell(getattr(row, column)) for column in columns), _mark(row)


def _cell(value: object) -> str:
    return " ".join(map(str, value)) if isinstance(value, tuple) else str(value)


def _mark(value: object) -> str:
    content = value.model_dump(mode="json") if isinstance(value, BaseModel) else value
    text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:12]


def _change(name: str, before: Mapping[str, str], now: Mapping[str, str]) -> TableChange:
    file = SITE_FILE if name == SITE else TABLES[name].file if name in TABLES else name
    return TableChange(
        file=file,
        new=tuple(key for key in now if key not in before),
        gone=tuple(key for key in before if key not in now),
        other=tuple(key for key, mark in now.items() if before.get(key, mark) != mark),
    )


def _named(keys: tuple[str, ...]) -> str:
    more = f" and {len(keys) - MOST} more" if len(keys) > MOST else ""
    return ", ".join(keys[:MOST]) + more
