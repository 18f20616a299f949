"""Names and counts as the shop floor says them: units, customers, people, products, equipment, bays, packs."""

from dataclasses import dataclass
from functools import cached_property

from scheduler.documents.words.direction import set_apart
from scheduler.documents.words.local_time import LocalTime
from scheduler.documents.words.reading_units import ReadingUnits, units_for
from scheduler.schedule.schedule import Assigned
from scheduler.shop.product_sheet import Supply
from scheduler.shop.shop import Shop


@dataclass(frozen=True)
class ShopWords:
    """Words for what a shop knows; an id that it does not know stands for itself, names that run right to left are set apart."""

    shop: Shop

    @cached_property
    def units(self) -> ReadingUnits:
        """What the site reads."""
        return units_for(self.shop.site.reads)

    @cached_property
    def time(self) -> LocalTime:
        """Wall time of the site."""
        return LocalTime(self.shop.site.tz)

    @cached_property
    def _equipment_names(self) -> dict[str, str]:
        return {row.equipment_id: row.name for row in self.shop.equipment}

    def unit(self, unit_id: str) -> str:
        """Unit with its name."""
        row = self.shop.unit_by_id.get(unit_id)
        return unit_id if row is None or row.name == unit_id else f"{unit_id} {set_apart(row.name)}"

    def customer(self, order_id: str) -> str:
        """Customer of an order; the order's id where the shop does not know it."""
        row = self.shop.order_by_id.get(order_id)
        return order_id if row is None else set_apart(row.customer)

    def person(self, person_id: str) -> str:
        """Name of a person."""
        row = self.shop.person_by_id.get(person_id)
        return person_id if row is None else set_apart(row.name)

    def product(self, product_id: str) -> str:
        """Name of a product."""
        row = self.shop.product_by_id.get(product_id)
        return product_id if row is None else set_apart(row.name)

    def tool(self, tool_id: str) -> str:
        """Piece of equipment with its name: ``H1#2 Cartridge warmer``."""
        name = self._equipment_names.get(tool_id.partition("#")[0], tool_id)
        return tool_id if name == tool_id else f"{tool_id} {set_apart(name)}"

    def bay(self, bay_id: str) -> str:
        """Name of a bay."""
        row = self.shop.bay_by_id.get(bay_id)
        return bay_id if row is None else set_apart(row.name)

    def bay_place(self, bay_id: str, place: int) -> str:
        """Bay and place in words."""
        row = self.shop.bay_by_id.get(bay_id)
        if row is None:
            return bay_id
        name = set_apart(row.name)
        return name if row.places == 1 else f"{name}, place {place}"

    def assigned(self, row: Assigned) -> str:
        """Name with what the person is there for; history does not always say it."""
        name = self.person(row.person_id)
        return f"{name} ({row.skill.replace('_', ' ')})" if row.skill else name

    def packs(self, product_id: str | None, packs: int) -> str:
        """Count of cartridges or cans."""
        row = self.shop.product_by_id.get(product_id or "")
        noun = "pack" if row is None else "cartridge" if row.supply is Supply.CARTRIDGE else "can"
        return f"{packs} {noun}{'' if packs == 1 else 's'}"
