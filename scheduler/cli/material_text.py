"""The material of a plan in plain letters: statement, purchases, reasons."""

import textwrap
from collections.abc import Iterator
from typing import Final

from scheduler.cli.talk import width
from scheduler.cli.text_table import text_table
from scheduler.documents.words.reading_units import Limit
from scheduler.documents.words.work_words import WorkWords
from scheduler.material.explain import explain
from scheduler.material.purchases import Purchase, purchases
from scheduler.material.statement import Account, Amount, statement

WIDEST: Final = 110
_PURCHASES: Final = ("product", "order by", "packs", "runs out", "opened", "a week", "left")


def material_text(words: WorkWords, warning: str = "") -> str:
    """Write everything, with a warning on top if there is one."""
    accounts = statement(words.shop, words.schedule)
    lines = [f"Material of the plan, {words.shop.site.name}", *([warning] if warning else [])]
    for account in accounts:
        lines += ["", *_account(words, account)]
    return "\n".join([*lines, *_orders(words), *_reasons(words)])


def _account(words: WorkWords, a: Account) -> Iterator[str]:
    yield f"{words.product(a.product.product_id)}: {a.spent:.2f} packs spent, no plan spends less than {a.least_spent:.2f}"
    rows = (
        ("stood opened", a.standing),
        (f"opened, no plan opens fewer than {a.least_packs}", a.opened),
        ("sprayed", Amount(0, a.sprayed_ml)),
        ("purged at starts", a.purged),
        ("in heels of empty packs", a.heels),
        ("left, recapped and in date", a.left),
        ("lapsed", a.lapsed),
        ("never opened, in date", a.shelf),
        ("never opened, expired", a.expired),
    )
    volume = words.units.volume
    cells = [(what, str(of.packs) if of.packs else "", volume.text(of.ml) if of.ml else "-") for what, of in rows]
    yield text_table(("what", "number", "volume"), cells)
    if abs(a.unaccounted_ml) >= 1:
        yield f"Does not balance: {volume.text(abs(a.unaccounted_ml))} {'are missing' if a.unaccounted_ml > 0 else 'too much'}."


def _orders(words: WorkWords) -> Iterator[str]:
    rows = purchases(words.shop, words.schedule)
    if rows:
        yield from ("", "To order, if work goes on at the rate of this plan (an order covers one lead time):")
        yield text_table(_PURCHASES, [_order(words, row) for row in rows])


def _order(words: WorkWords, row: Purchase) -> tuple[str, ...]:
    by = "not within a year" if row.order_by is None else row.order_by.isoformat()
    by = f"at once (was due {by})" if row.is_late else by
    out = "-" if row.runs_out_on is None else row.runs_out_on.isoformat()
    counts = (str(row.order_packs or "-"), out, str(row.opened_packs), f"{row.packs_a_week:.1f}", str(row.left_packs))
    return words.product(row.product.product_id), by, *counts


def _reasons(words: WorkWords) -> Iterator[str]:
    rows = explain(words.shop, words.schedule)
    if rows:
        yield from ("", "Opened beyond the fewest that any plan opens:")
    for row in rows:
        gives = words.units.volume.text(row.sprayed_ml, Limit.AT_MOST)
        head = f"{row.pack}, {words.time.text(row.at)}, {words.unit(row.work.unit_id)} {words.step(row.work)} ({gives})"
        room = min(width(), WIDEST)
        yield from textwrap.wrap(f"{head}: {row.because}", room, initial_indent="  ", subsequent_indent="    ")
