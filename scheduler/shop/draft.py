"""A shop folder as far as it could be read: what the cross checks look at, with the place of every row."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar, cast

from scheduler.shop.faults import Fault
from scheduler.shop.fields import Row
from scheduler.shop.need import Need
from scheduler.shop.needs import needs_of
from scheduler.shop.shop import Shop
from scheduler.shop.site_file import SiteFile
from scheduler.shop.tables import SITE_FILE
from scheduler.shop.typed_rows import TypedTable
from scheduler.shop.working_time import Stretch, working_stretches

AnyRow = TypeVar("AnyRow", bound=Row)


@dataclass(frozen=True)
class Draft:
    """Settings and tables with their places.

    Attributes
    ----------
    site : SiteFile
        Settings.
    tables : mapping of str to TypedTable
        Tables by name; an optional one that is not there is empty.
    """

    site: SiteFile
    tables: Mapping[str, TypedTable]

    def rows(self, table: str, model: type[AnyRow]) -> Iterator[tuple[int, AnyRow]]:
        """Valid rows of a table with their lines."""
        return cast("Iterator[tuple[int, AnyRow]]", iter(self.tables[table].rows.items()))

    def column(self, table: str, column: str) -> dict[str, int]:
        """Texts that stand in a column, valid row or not, with the line of the first of each."""
        found: dict[str, int] = {}
        for row in self.tables[table].raw:
            if column in row.cells:
                found.setdefault(row.cells[column].strip(), row.line)
        return found

    def listed(self, *tables: str) -> bool:
        """Whether no row of these tables is lost: only then an id that is not there is unknown."""
        return all(self.tables[name].listed for name in tables)

    def whole(self, *tables: str) -> bool:
        """Whether all rows of these tables are valid: only then it means something that none will do."""
        return all(self.tables[name].whole for name in tables)

    def fault(self, table: str, line: int | None, column: str | None, value: object, problem: str, cure: str) -> Fault:
        """Return a fault of a table; ``value`` may be None."""
        return Fault(self.tables[table].file, line, column, None if value is None else str(value), problem, cure)

    def site_fault(self, key: str, value: object, problem: str, cure: str) -> Fault:
        """Return a fault of the settings."""
        return Fault(SITE_FILE, self.site.lines.get(key), key, str(value), problem, cure)

    @cached_property
    def shop(self) -> Shop | None:
        """The shop of the valid rows; None if the settings are not valid."""
        if self.site.site is None:
            return None
        rows = {name: tuple(table.rows.values()) for name, table in self.tables.items()}
        return Shop.model_validate({"site": self.site.site, **rows})

    @cached_property
    def stretches(self) -> dict[str, tuple[Stretch, ...]]:
        """Working stretches by person; nothing if the settings are not valid or the horizon cannot be planned."""
        shop = self.shop
        if shop is None or not shop.site.is_plannable:
            return {}
        return {person.person_id: working_stretches(shop, person) for person in shop.crew}

    @cached_property
    def needs(self) -> dict[str, tuple[Need, ...]]:
        """What each unit needs, by unit id; nothing if the settings are not valid."""
        shop = self.shop
        return {} if shop is None else {unit_id: needs_of(shop, unit_id) for unit_id in shop.unit_by_id}
