"""The tables of a shop folder: which there are, what a row is, what is required, which columns tell rows apart."""

from dataclasses import dataclass
from typing import Final

from scheduler.shop.calendar import Closure, Shift
from scheduler.shop.coating_system import Coat
from scheduler.shop.fields import Row
from scheduler.shop.fixed import Done, Hold, Pinned, Rework, Warming
from scheduler.shop.forecast_rows import TypicalHour, WeatherHour
from scheduler.shop.methods import Method
from scheduler.shop.product_sheet import Product, ProductTime
from scheduler.shop.resources import Bay, Equipment, Person
from scheduler.shop.stock import Lot, Opened
from scheduler.shop.unit import Order, Surface, Unit

SITE_FILE: Final = "site.toml"
PACKAGE_FILE: Final = "datapackage.json"
WORKBOOK_END: Final = ".xlsx"
TYPICAL_YEAR: Final = "typical_year"


@dataclass(frozen=True, slots=True)
class Refers:
    """A column whose cells are found in a column of another table."""

    column: str
    table: str
    there: str


@dataclass(frozen=True, slots=True)
class Table:
    """A table of the shop folder.

    Attributes
    ----------
    name : str
        Field of ``Shop``; the file is ``<name>.csv``, that of the typical year is named in the settings.
    row : type of Row
        Model of a row.
    says : str
        What one row is.
    key : tuple of str
        Columns that together tell its rows apart.
    required, may_be_empty : bool
        Whether the file must be there, and whether it may have no rows.
    refers : tuple of Refers
        Columns that name rows of other tables.
    """

    name: str
    row: type[Row]
    says: str
    key: tuple[str, ...]
    required: bool = True
    may_be_empty: bool = False
    refers: tuple[Refers, ...] = ()

    @property
    def file(self) -> str:
        """Name of its file, unless the settings name another."""
        return f"{self.name}.csv"


_UNIT: Final = Refers("unit_id", "units", "unit_id")
_LIKE: Final = Refers("like_unit", "units", "unit_id")
_PRODUCT: Final = Refers("product_id", "products", "product_id")
_BAY: Final = Refers("bay_id", "bays", "bay_id")
_SYSTEM: Final = Refers("system_id", "coating_systems", "system_id")

_ALL: Final = (
    Table("orders", Order, "a customer's batch", ("order_id",)),
    Table("units", Unit, "one item to coat", ("unit_id",), refers=(Refers("order_id", "orders", "order_id"),)),
    Table("surfaces", Surface, "one surface of a unit", ("unit_id", "surface"), refers=(_UNIT, _SYSTEM)),
    Table("coating_systems", Coat, "one coat of a coating system", ("system_id", "coat"), refers=(_PRODUCT,)),
    Table("products", Product, "a product sheet", ("product_id",)),
    Table("product_times", ProductTime, "a sheet's row at one steel temperature", ("product_id", "temp_c"), refers=(_PRODUCT,)),
    Table("lots", Lot, "unopened packs of one lot", ("lot_id",), may_be_empty=True, refers=(_PRODUCT,)),
    Table("opened", Opened, "a pack that has been opened", ("pack_id",), False, True, (Refers("lot_id", "lots", "lot_id"),)),
    Table("bays", Bay, "a place to work", ("bay_id",)),
    Table("crew", Person, "a person", ("person_id",), refers=(Refers("shift_id", "shifts", "shift_id"),)),
    Table("equipment", Equipment, "a piece of equipment, or several alike", ("equipment_id",), may_be_empty=True),
    Table("methods", Method, "how a step is done", ("step",)),
    Table("shifts", Shift, "a stretch of the weekly pattern", ("shift_id", "weekdays", "starts")),
    Table("closures", Closure, "what is shut when", ("what", "which", "closed_from"), False, True),
    Table("weather", WeatherHour, "an hour of the forecast", ("at",), False, True),
    Table(TYPICAL_YEAR, TypicalHour, "an hour of a typical year", ("month", "day", "hour"), False, True),
    Table("pinned", Pinned, "a step that must start at a given time", ("unit_id", "step"), False, True, (_UNIT, _BAY)),
    Table("holds", Hold, "units of a kind that a quote keeps capacity for", ("hold_id", "like_unit"), False, True, (_LIKE,)),
    Table("warming", Warming, "a step whose cartridges are in a warmer already", ("unit_id", "step"), False, True, (_UNIT,)),
    Table("rework", Rework, "what has to be made good on a unit", ("unit_id", "after", "kind"), False, True, (_UNIT,)),
    Table("done", Done, "a step that has been done", ("unit_id", "step"), False, True, (_UNIT, _BAY)),
)

TABLES: Final[dict[str, Table]] = {table.name: table for table in _ALL}
