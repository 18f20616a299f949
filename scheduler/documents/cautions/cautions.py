"""Cautions for the work of a day. They remind; the product's safety data sheet, local codes and licensed practice rule.

The texts stand in ``caution_texts.toml``. None says that something is free of danger, and none stands in for training or
a risk assessment.
"""

import tomllib
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final

from scheduler.schedule.schedule import Work
from scheduler.shop.methods import FILM_STEPS, MOVE_STEPS, Emits, Step
from scheduler.shop.product_sheet import Supply
from scheduler.shop.resources import Kind
from scheduler.shop.shop import Shop

RULE: Final = (
    "These cautions are reminders only. Follow the safety data sheet of each product, the codes that hold at your site and "
    "the practice of people licensed for the work. If they differ from this sheet, they come first."
)


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution.

    Attributes
    ----------
    name : str
        Key and anchor.
    title : str
    lines : tuple of str
        What to mind, each a sentence or two.
    """

    name: str
    title: str
    lines: tuple[str, ...]


Applies = Callable[[Shop, Work], bool]
_INSIDE: Final = FILM_STEPS | {Step.WASH, Step.STRIP, Step.ABRADE, Step.CUT_OUT, Step.WIPE}


def _under_respirator(shop: Shop, work: Work) -> bool:
    method = shop.method_of.get(work.step)
    return method is not None and method.respirator


def _emits(shop: Shop, work: Work, what: Emits) -> bool:
    method = shop.method_of.get(work.step)
    return method is not None and method.emits is what


def _uses_air(shop: Shop, work: Work) -> bool:
    method = shop.method_of.get(work.step)
    kinds = {row.kind for row in shop.equipment if row.air_l_s}
    return any(word in kinds for word in (method.tools if method else ()))


def _uses_lift(shop: Shop, work: Work) -> bool:
    method = shop.method_of.get(work.step)
    return method is not None and Kind.LIFT in method.tools


def _warm(shop: Shop, work: Work) -> bool:
    product = shop.product_by_id.get(work.product_id or "")
    return bool(work.loads) or (product is not None and product.supply is Supply.CARTRIDGE)


_APPLIES: Final[dict[str, Applies]] = {
    "isocyanates": lambda _, work: work.step in FILM_STEPS or work.step is Step.ABRADE or work.step is Step.STRIP,
    "solvent": lambda shop, work: work.step in FILM_STEPS | {Step.WASH, Step.WIPE} or _emits(shop, work, Emits.VAPOUR),
    "air": _uses_air,
    "cartridges": _warm,
    "dust": lambda shop, work: work.step in {Step.STRIP, Step.ABRADE, Step.CUT_OUT} or _emits(shop, work, Emits.DUST),
    "lifting": lambda shop, work: work.step in MOVE_STEPS or _uses_lift(shop, work),
    "heat": _under_respirator,
    "confined": lambda _, work: work.step in _INSIDE,
}


def cautions_for(shop: Shop, works: Iterable[Work]) -> tuple[Caution, ...]:
    """Cautions that the work of a day calls for, in a fixed order; when in doubt, a caution is shown."""
    day = tuple(works)
    return tuple(caution for caution in all_cautions() if any(_APPLIES[caution.name](shop, work) for work in day))


@cache
def all_cautions() -> tuple[Caution, ...]:
    """Every caution there is."""
    texts = tomllib.loads(files("scheduler.documents.cautions").joinpath("caution_texts.toml").read_text(encoding="utf-8"))
    return tuple(Caution(row["name"], row["title"], tuple(row["lines"])) for row in texts["caution"])
