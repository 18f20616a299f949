"""What stands in a feed: stretches of work for a person, arrival and hand-over of units for an order."""

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Final
from uuid import NAMESPACE_URL, uuid5

from scheduler.documents.sheets.limits import readings
from scheduler.documents.words.packs_words import packs_words
from scheduler.documents.words.work_words import WorkWords
from scheduler.schedule.schedule import Work
from scheduler.shop.day_words import day_text
from scheduler.shop.methods import Step

CAUTION: Final = (
    "Cautions stand on the day sheet. The safety data sheet of each product, the codes that hold at your site and the practice "
    "of people licensed for the work come first."
)
_CONTROLS: Final = re.compile(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")
"""Controls but for the line end, separators of lines, controls of direction (UAX #9), halves of letters."""
_SPACES: Final = re.compile(r"[\xa0\u202f]")
_FOR_CUSTOMERS: Final = {Step.RECEIVE: "Arrives", Step.DISPATCH: "Handed back"}


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of a calendar.

    Attributes
    ----------
    uid : str
        The same for the same stretch of the same work of the same feed, however often the plan changes.
    starts, ends : datetime
    title, place, text : str
    tentative : bool
        Rests on the weather of a typical year.
    """

    uid: str
    starts: datetime
    ends: datetime
    title: str
    place: str
    text: str
    tentative: bool


@dataclass(frozen=True, slots=True)
class Feed:
    """A calendar: its file name without ending, its title and what stands in it."""

    name: str
    title: str
    entries: tuple[Entry, ...]


def feeds(words: WorkWords) -> tuple[Feed, ...]:
    """Feeds of all people and orders of the shop, also of those who have nothing to do."""
    work = sorted(words.schedule.work, key=lambda w: (w.start, w.work_id))
    of_person, of_order = _grouped(work)
    people = (_person(words, person.person_id, of_person[person.person_id]) for person in words.shop.crew)
    orders = (_order(words, order.order_id, of_order[order.order_id]) for order in words.shop.orders)
    return (*people, *orders)


def _grouped(work: list[Work]) -> tuple[dict[str, list[Work]], dict[str, list[Work]]]:
    """Work by person and by order, in its order."""
    of_person: dict[str, list[Work]] = defaultdict(list)
    of_order: dict[str, list[Work]] = defaultdict(list)
    for step in work:
        of_order[step.order_id].append(step)
        for person_id in {a.person_id for a in step.people}:
            of_person[person_id].append(step)
    return of_person, of_order


def _person(words: WorkWords, person_id: str, mine: list[Work]) -> Feed:
    name = f"person-{person_id}"
    return Feed(name, f"{words.person(person_id)}: coating work", tuple(e for w in mine for e in _stretches(words, name, w)))


def _stretches(words: WorkWords, name: str, work: Work) -> Iterator[Entry]:
    for number, span in enumerate(work.spans):
        part = f" (part {number + 1} of {len(work.spans)})" if len(work.spans) > 1 else ""
        title = f"{words.step(work)}: {words.unit(work.unit_id)}{part}"
        yield Entry(
            _uid(words, name, f"{work.work_id}/{number}"),
            span.start,
            span.end,
            title,
            words.place(work),
            "\n".join(_lines(words, work)),
            work.typical_weather,
        )


def _lines(words: WorkWords, work: Work) -> Iterator[str]:
    amounts = [*([words.product(work.product_id)] if work.product_id else []), *words.how_much(work)]
    measured = [f"{reading.what} {reading.must_be}" for reading in readings(words, work)]
    rows = (
        ("Customer", words.customer(work.order_id)),
        ("With", ", ".join(words.people(work))),
        ("Tools", words.tools(work)),
        ("How much", ", ".join(amounts)),
        ("From the store", "; ".join(packs_words(work))),
        ("Measure first", "; ".join(measured)),
        ("Why", work.reason),
        ("Weather", "of a typical year, not a forecast; expect this to move" if work.typical_weather else ""),
    )
    yield from (f"{name}: {says}" for name, says in rows if says)
    yield CAUTION


def _order(words: WorkWords, order_id: str, work: list[Work]) -> Feed:
    name = f"order-{order_id}"
    mine = [w for w in work if w.step in _FOR_CUSTOMERS]
    title = f"{words.customer(order_id)}: order {order_id}"
    return Feed(name, title, tuple(_hand_over(words, name, w) for w in mine))


def _hand_over(words: WorkWords, name: str, work: Work) -> Entry:
    """What a customer asks for: no names of people, no reasons."""
    due = words.shop.local(words.shop.order_by_id[work.order_id].due_at)
    lines = [f"Order {work.order_id}, due {day_text(due.date())}"]
    lines += ["Rests on the weather of a typical year; expect it to move."] if work.typical_weather else []
    title = f"{_FOR_CUSTOMERS[work.step]}: {words.unit(work.unit_id)}"
    uid = _uid(words, name, work.work_id)
    return Entry(uid, work.start, work.end, title, words.shop.site.name, "\n".join(lines), work.typical_weather)


def _uid(words: WorkWords, feed: str, what: str) -> str:
    """A UUID that the same words always give (RFC 9562, version 5), as RFC 7986 asks for."""
    return str(uuid5(NAMESPACE_URL, f"coatrun:{words.shop.site.name}/{feed}/{what}"))


def plain(text: str) -> str:
    """Text on plain lines: no controls of direction or of anything else; narrow spaces become plain ones."""
    return _SPACES.sub(" ", _CONTROLS.sub("", text))
