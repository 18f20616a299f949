"""Where not everything can be done: the fewest orders that must slip and to when, and what would make it fit after all."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from itertools import islice

from scheduler.activities.build import build_network
from scheduler.replan.cures import dates, more
from scheduler.replan.fewest_slips import fewest_slips
from scheduler.replan.fitting import Fitting
from scheduler.replan.pins import BrokenPin
from scheduler.replan.pins_let_go import Keys, fewest_pins
from scheduler.replan.slips import Slip, slips
from scheduler.replan.variants import Variant
from scheduler.shop.shop import Shop

MOST_CURES, MOST_TRIED = 3, 6
"""Changes that are named, and things that there could be more of that are tried."""


@dataclass(frozen=True)
class WaysOut:
    """What can be done.

    Attributes
    ----------
    slips : tuple of Slip
        With these orders left out all others find a place.
    fewest : bool
        Whether it is proven that fewer do not suffice.
    cures : tuple of str
        Single changes with which everything finds a place, the cheapest kind first.
    """

    slips: tuple[Slip, ...]
    fewest: bool
    cures: tuple[str, ...]


def ways_out(shop: Shop, rules: Collection[str] = (), broken: Collection[BrokenPin] = ()) -> WaysOut:
    """Look for the fewest orders that must slip, and for single changes after which none has to.

    To let go of a pin costs least and comes first, then other dates, then what the shop could have more of.

    Parameters
    ----------
    shop : Shop
        For which insertion finds no schedule.
    rules : collection of str
        Rules that are known to clash; what helps against them is tried first.
    broken : collection of BrokenPin
        Pins that leave no start whatever else is planned.
    """
    net = build_network(shop).network
    if shop.pinned:
        freed = fewest_pins(net, {f"{row.pin.unit_id}/{row.pin.step}" for row in broken})
        if freed:
            return WaysOut((), fewest=False, cures=tuple(_let_go(keys) for keys in freed[:MOST_CURES]))
    few = fewest_slips(Fitting(net))
    cures = _helping(dates(shop, few.items), 2) or _helping(islice(more(shop, rules), MOST_TRIED), MOST_CURES)
    return WaysOut(slips(shop, few.items), few.proven, cures)


def _let_go(keys: Keys) -> str:
    steps = [key.partition("/") for key in sorted(keys)]
    names = " and ".join(f"{step} of {unit}" for unit, _, step in steps)
    return f"{names} {'is' if len(steps) == 1 else 'are'} not fixed any more"


def _helping(tried: Iterable[Variant], most: int) -> tuple[str, ...]:
    """Changes with which everything finds a place, one of a kind, until there are as many as are wanted."""
    found: dict[str, str] = {}
    for variant in tried:
        if variant.name not in found and Fitting(build_network(variant.shop).network).fits():
            found[variant.name] = variant.says
        if len(found) == most:
            break
    return tuple(found.values())
