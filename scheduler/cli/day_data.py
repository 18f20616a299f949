"""The sheet of a day for a machine; moments are ISO 8601 with the site's offset, limits in the units that their names say."""

from scheduler.documents.cautions.cautions import RULE
from scheduler.documents.sheets.day_sheet import DaySheet, SheetRow
from scheduler.documents.sheets.warmer_rows import WarmerRow
from scheduler.documents.store.pick import PickList
from scheduler.documents.words.work_words import WorkWords


def day_data(words: WorkWords, sheet: DaySheet, picks: PickList) -> dict[str, object]:
    """Everything that the sheet and the list say."""
    return {
        "site": words.shop.site.name,
        "day": sheet.day.isoformat(),
        "typical_weather": sheet.typical_weather,
        "work": [_work(words, row) for row in sheet.rows],
        "load": [_warmer(words, row) for row in sheet.to_load],
        "take_out": [_warmer(words, row) for row in sheet.to_take],
        "pick": [
            {"group": p.group, "item": p.item, "amount": p.amount, "unit": p.unit, "source": p.source, "note": p.note}
            for p in picks.picks
        ],
        "cautions": {"rule": RULE, "for_this_day": [{"title": c.title, "lines": list(c.lines)} for c in sheet.cautions]},
    }


def _work(words: WorkWords, row: SheetRow) -> dict[str, object]:
    work = row.work
    return {
        "starts_at": words.time.iso(row.span.start),
        "ends_at": words.time.iso(row.span.end),
        "place": row.place,
        "work_id": work.work_id,
        "step": row.step,
        "unit_id": work.unit_id,
        "unit": row.unit,
        "customer": row.customer,
        "people": list(row.people),
        "tools": list(work.tools),
        "product": row.product or None,
        "area_m2": work.area_m2,
        "volume_ml": work.volume_ml,
        "packs": work.packs,
        "measure": [{"name": r.name, "min": r.low, "max": r.high} for r in row.readings],
        "reason": work.reason,
        "done": work.done,
        "typical_weather": work.typical_weather,
    }


def _warmer(words: WorkWords, row: WarmerRow) -> dict[str, object]:
    return {
        "equipment_id": row.load.equipment_id,
        "cartridges": row.cartridges,
        "slots": row.slots,
        "names": row.packs,
        "product": row.product,
        "loaded_at": words.time.iso(row.load.loaded_at),
        "used_at": words.time.iso(row.work.start),
        "work_id": row.work.work_id,
    }
