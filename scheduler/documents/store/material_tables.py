"""The material of a plan as tables: what became of it, what to order by when, why packs are opened beyond the fewest."""

from collections.abc import Iterator

from scheduler.documents.state.plan_state import Tile
from scheduler.documents.words.reading_units import Limit
from scheduler.documents.words.table import Table
from scheduler.documents.words.work_words import WorkWords
from scheduler.material.purchases import Purchase, purchases
from scheduler.material.statement import Account, Amount
from scheduler.shop.day_words import day_and_year_text


def material_tables(words: WorkWords) -> tuple[Table, ...]:
    """Tables that have rows."""
    tables = (statement_table(words), purchases_table(words), openings_table(words))
    return tuple(table for table in tables if table.rows)


def waste_tile(words: WorkWords) -> Tile:
    """What of the opened material never reaches the work: purges, heels and what has lapsed."""
    accounts = words.accounts
    waste_ml = sum(a.purged.ml + a.heels.ml + a.lapsed.ml for a in accounts)
    open_ml = sum(a.standing.ml + a.opened.ml for a in accounts)
    return Tile(
        "Waste", f"{100 * waste_ml / open_ml:.1f} %" if open_ml else "none", "of the opened material: purges, heels, lapsed"
    )


def statement_table(words: WorkWords) -> Table:
    """A row for each product, from what stood opened to what is left."""
    heads = (
        "product",
        "stood opened",
        "opened",
        "sprayed",
        "purged",
        "in heels",
        "left, recapped",
        "lapsed",
        "unopened",
        "expired",
    )
    rows = tuple(tuple(_account(words, account)) for account in words.accounts)
    return Table("What becomes of the material", heads, rows)


def purchases_table(words: WorkWords) -> Table:
    """Products to order, the most urgent on top."""
    heads = ("product", "order by", "packs", "runs out", "opened by the plan", "a week", "left unopened")
    rows = tuple(_purchase(words, row) for row in purchases(words.shop, words.schedule))
    return Table("To order, if work goes on at the rate of this plan", heads, rows)


def openings_table(words: WorkWords) -> Table:
    """Packs opened beyond the fewest that any plan opens, each with its reason."""
    heads = ("pack", "opened", "for", "gives", "because")
    rows = tuple(
        (
            row.pack,
            words.time.text(row.at),
            f"{words.step(row.work)}, {words.unit(row.work.unit_id)}",
            words.units.volume.text(row.sprayed_ml, Limit.AT_MOST),
            row.because,
        )
        for row in words.openings
    )
    return Table("Opened beyond the fewest packs that any plan opens", heads, rows)


def _account(words: WorkWords, a: Account) -> Iterator[str]:
    yield words.product(a.product.product_id)
    yield _amount(words, a.standing)
    yield f"{_amount(words, a.opened)}; at least {a.least_packs} in any plan"
    yield words.units.volume.text(a.sprayed_ml)
    yield _amount(words, a.purged, "start")
    for amount in (a.heels, a.left, a.lapsed, a.shelf, a.expired):
        yield _amount(words, amount)


def _amount(words: WorkWords, amount: Amount, of: str = "pack") -> str:
    """Millilitres and in how many packs, or at how many starts, they are."""
    if not round(amount.ml):
        return "none"
    return f"{words.units.volume.text(amount.ml)} in {amount.packs} {of}{'' if amount.packs == 1 else 's'}"


def _purchase(words: WorkWords, row: Purchase) -> tuple[str, ...]:
    by = "not within a year" if row.order_by is None else day_and_year_text(row.order_by)
    out = "not within a year" if row.runs_out_on is None else day_and_year_text(row.runs_out_on)
    counts = (str(row.opened_packs), f"{row.packs_a_week:.1f}", str(row.left_packs))
    return (
        words.product(row.product.product_id),
        f"at once, was due {by}" if row.is_late else by,
        str(row.order_packs),
        out,
        *counts,
    )
