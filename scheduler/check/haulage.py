"""haulage: trucks are free for each pick-up and drop, and the yard has room."""

from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.on_site import new_overloads, on_site
from scheduler.check.tools import missing_pieces, too_many
from scheduler.shop.resources import Kind

_RULE = "haulage"


def check(facts: Facts) -> Iterator[Breach]:
    """Yield times with too many units on the site or too few trucks."""
    room = facts.shop.site.yard_places
    for overload in new_overloads(on_site(facts), room):
        says = f"{overload.load:.0f} units are on the site from {facts.when(overload.at)}, it has room for {room}"
        yield facts.breach(_RULE, overload.holders, overload.at, overload.load - room, says)
    for job in facts.planned:
        for tool in missing_pieces(facts, job, Kind.TRUCK):
            says = f"{job.label} on {facts.when(job.start)} names {tool}, which the shop does not have"
            yield facts.breach(_RULE, (job,), job.start, None, says)
    for overload, there in too_many(facts, Kind.TRUCK):
        names = ", ".join(job.label for job in overload.holders)
        says = f"{names} want a truck at once on {facts.when(overload.at)}, there are {there}"
        yield facts.breach(_RULE, overload.holders, overload.at, overload.load - there, says)
