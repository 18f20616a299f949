"""open_life: a pack that has been opened is used within its open life."""

from collections.abc import Iterator
from datetime import date, timedelta
from math import floor

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.pack_stock import standing
from scheduler.check.packs import PackUse
from scheduler.shop.day_words import day_text

_RULE = "open_life"


def check(facts: Facts) -> Iterator[Breach]:
    """Yield uses of packs after their last day."""
    for uses in facts.pack_uses.values():
        opened_on = _opened_on(facts, uses[0])
        for use in uses:
            yield from _too_old(facts, use, opened_on)


def _opened_on(facts: Facts, first: PackUse) -> date:
    row = standing(facts, first)
    return row.opened_on if row is not None else facts.local(first.job.start).date()


def _too_old(facts: Facts, use: PackUse, opened_on: date) -> Iterator[Breach]:
    film = use.job.need.film
    if film is None:
        return
    last = opened_on + timedelta(days=floor(film.product.open_life_d))
    late_d = (facts.local(use.job.end).date() - last).days
    if late_d > 0:
        says = (
            f"{use.where} on {facts.when(use.job.start)}: it was opened on {day_text(opened_on)} and keeps until {day_text(last)}"
        )
        yield facts.breach(_RULE, (use.job,), use.job.end, float(late_d), says)
