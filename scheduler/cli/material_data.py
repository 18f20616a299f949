"""The material of a plan for a machine: millilitres, packs, ISO 8601 days and moments with the site's offset."""

from datetime import date

from scheduler.documents.store.material_csv import loading_list
from scheduler.documents.words.work_words import WorkWords
from scheduler.material.explain import explain
from scheduler.material.purchases import Purchase, purchases
from scheduler.material.statement import Account, Amount, statement
from scheduler.material.traceability import Trace, traceability
from scheduler.material.warmer_list import Loading


def material_data(words: WorkWords) -> dict[str, object]:
    """Statement, purchases, reasons, loading list and record."""
    shop, schedule = words.shop, words.schedule
    return {
        "site": shop.site.name,
        "statement": [_account(row) for row in statement(shop, schedule)],
        "purchases": [_purchase(row) for row in purchases(shop, schedule)],
        "opened_beyond_bound": [
            {
                "product_id": row.product.product_id,
                "cartridge": row.pack,
                "opened_at": words.time.iso(row.at),
                "work_id": row.work.work_id,
                "sprayed_ml": _ml(row.sprayed_ml),
                "stood_by_ml": _ml(row.stood_by_ml),
                "because": row.because,
            }
            for row in explain(shop, schedule)
        ],
        "warmers": [_loading(words, row) for row in loading_list(words)],
        "traceability": [_trace(words, row) for row in traceability(shop, schedule)],
    }


def _account(row: Account) -> dict[str, object]:
    amounts = {
        **{"standing": row.standing, "opened": row.opened, "purged": row.purged, "heels": row.heels, "left": row.left},
        **{"lapsed": row.lapsed, "shelf": row.shelf, "expired": row.expired},
    }
    return {
        "product_id": row.product.product_id,
        **{name: _amount(amount) for name, amount in amounts.items()},
        "sprayed_ml": _ml(row.sprayed_ml),
        "spent_packs": round(row.spent, 3),
        "least_packs": row.least_packs,
        "least_spent_packs": round(row.least_spent, 3),
        "unaccounted_ml": _ml(row.unaccounted_ml),
    }


def _amount(amount: Amount) -> dict[str, object]:
    return {"packs": amount.packs, "ml": _ml(amount.ml)}


def _purchase(row: Purchase) -> dict[str, object]:
    return {
        "product_id": row.product.product_id,
        "opened_packs": row.opened_packs,
        "packs_a_week": round(row.packs_a_week, 2),
        "left_packs": row.left_packs,
        "runs_out_on": _day(row.runs_out_on),
        "order_packs": row.order_packs,
        "order_by": _day(row.order_by),
        "is_late": row.is_late,
        "lead_time_d": row.product.lead_time_d,
    }


def _loading(words: WorkWords, row: Loading) -> dict[str, object]:
    return {
        "warmer": row.warmer_id,
        "slot": row.slot,
        "cartridge": row.draw.cartridge_id,
        "lot": row.draw.lot_id,
        "content_ml": _ml(row.content_ml),
        "recapped": row.recapped,
        "overnight": row.overnight,
        "loaded_at": words.time.iso(row.loaded_at),
        "warm_from": words.time.iso(row.warm_from) if row.warm_from else None,
        "used_at": words.time.iso(row.work.start),
        "work_id": row.work.work_id,
        "bench_c": row.bench_c,
        "longest_outside_min": row.outside_min,
    }


def _trace(words: WorkWords, row: Trace) -> dict[str, object]:
    return {
        "unit_id": row.work.unit_id,
        "work_id": row.work.work_id,
        "coat_numbers": list(row.work.coat_numbers),
        "product_id": row.product.product_id,
        "lot": row.lot.lot_id,
        "cartridge": row.draw.cartridge_id,
        "sprayed_ml": _ml(row.draw.sprayed_ml),
        "starts_at": words.time.iso(row.work.start),
        "people": [person.person_id for person in row.work.people],
    }


def _ml(ml: float) -> float:
    return round(ml, 3)


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None
