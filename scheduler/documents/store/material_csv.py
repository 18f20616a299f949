"""The lists of material as CSV: statement, purchases, loading list of the warmers, record of lots and cartridges."""

from scheduler.documents.words.table import csv_text
from scheduler.documents.words.work_words import WorkWords
from scheduler.material.purchases import purchases
from scheduler.material.traceability import traceability
from scheduler.material.warmer_list import Loading


def loading_list(words: WorkWords) -> tuple[Loading, ...]:
    """Loadings of the whole plan, with the air of each day's bay."""
    return words.loading_list


def statement_csv(words: WorkWords) -> str:
    """What became of every millilitre, by product."""
    columns = (
        *("product_id", "standing_packs", "standing_ml", "opened_packs", "opened_ml", "sprayed_ml", "purged_starts", "purged_ml"),
        *("empty_packs", "heels_ml", "left_packs", "left_ml", "lapsed_packs", "lapsed_ml", "shelf_packs", "expired_packs"),
        *("spent_packs", "least_packs", "least_spent_packs"),
    )
    rows = (
        (
            *(a.product.product_id, a.standing.packs, _ml(a.standing.ml), a.opened.packs, _ml(a.opened.ml)),
            *(_ml(a.sprayed_ml), a.purged.packs, _ml(a.purged.ml), a.heels.packs, _ml(a.heels.ml)),
            *(a.left.packs, _ml(a.left.ml), a.lapsed.packs, _ml(a.lapsed.ml), a.shelf.packs, a.expired.packs),
            *(round(a.spent, 3), a.least_packs, round(a.least_spent, 3)),
        )
        for a in words.accounts
    )
    return csv_text(columns, rows)


def purchases_csv(words: WorkWords) -> str:
    """What to order by when."""
    columns = (
        "product_id",
        "order_by",
        "order_packs",
        "runs_out_on",
        "opened_packs",
        "packs_a_week",
        "left_packs",
        "lead_time_d",
    )
    rows = (
        (
            *(p.product.product_id, p.order_by.isoformat() if p.order_by else None, p.order_packs),
            *(p.runs_out_on.isoformat() if p.runs_out_on else None, p.opened_packs, round(p.packs_a_week, 2)),
            *(p.left_packs, p.product.lead_time_d),
        )
        for p in purchases(words.shop, words.schedule)
    )
    return csv_text(columns, rows)


def warmers_csv(words: WorkWords) -> str:
    """Which cartridge goes into which slot when, when it may come out and for how long it may lie outside."""
    columns = (
        *("load_day", "loaded_at", "warmer", "slot", "cartridge", "lot", "product_id", "content_ml", "recapped", "overnight"),
        *("warm_from", "used_at", "work_id", "bench_c", "longest_outside_min"),
    )
    iso = words.time.iso
    rows = (
        (
            *(row.load_day.isoformat(), iso(row.loaded_at), row.warmer_id, row.slot, row.draw.cartridge_id, row.draw.lot_id),
            *(row.product.product_id, _ml(row.content_ml), _yes(row.recapped), _yes(row.overnight)),
            *(iso(row.warm_from) if row.warm_from else None, iso(row.work.start), row.work.work_id),
            *(None if row.bench_c is None else round(row.bench_c, 1), row.outside_min),
        )
        for row in loading_list(words)
    )
    return csv_text(columns, rows)


def cartridges_csv(words: WorkWords) -> str:
    """Which lot and cartridge went on which unit in which coat, by whom and when."""
    columns = (
        *("unit_id", "order_id", "work_id", "coats", "product_id", "lot", "expires_on", "cartridge", "begins", "sprayed_ml"),
        *("starts_at", "ends_at", "people", "done"),
    )
    iso = words.time.iso
    rows = (
        (
            *(t.work.unit_id, t.work.order_id, t.work.work_id, " ".join(map(str, t.work.coat_numbers)), t.product.product_id),
            *(t.draw.lot_id, t.lot.expires_on.isoformat(), t.draw.cartridge_id, t.draw.begins, _ml(t.draw.sprayed_ml)),
            *(iso(t.work.start), iso(t.work.end), "; ".join(words.people(t.work)), _yes(t.work.done)),
        )
        for t in traceability(words.shop, words.schedule)
    )
    return csv_text(columns, rows)


def openings_csv(words: WorkWords) -> str:
    """Packs opened beyond the bound, each with its reason."""
    columns = ("product_id", "cartridge", "opened_at", "work_id", "sprayed_ml", "stood_by_ml", "because")
    rows = (
        (e.product.product_id, e.pack, words.time.iso(e.at), e.work.work_id, _ml(e.sprayed_ml), _ml(e.stood_by_ml), e.because)
        for e in words.openings
    )
    return csv_text(columns, rows)


def _ml(ml: float) -> float:
    return round(ml, 3)


def _yes(flag: bool) -> str:
    return "yes" if flag else "no"
