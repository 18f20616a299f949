"""The day sheet as CSV, in the units that its column names say; a row for each stretch of work and each warmer load."""

from typing import Final

from scheduler.documents.sheets.day_sheet import DaySheet, SheetRow
from scheduler.documents.sheets.warmer_rows import WarmerRow
from scheduler.documents.words.local_time import LocalTime
from scheduler.documents.words.table import Cell, csv_text

_LIMITS: Final = ("steel_c", "air_c", "dew_margin_k", "rh_pct", "material_c", "wind_m_s", "rain_mm")
COLUMNS: Final = (
    "kind",
    "starts_at",
    "ends_at",
    "bay",
    "unit_id",
    "unit",
    "customer",
    "step",
    "people",
    "tools",
    "product",
    "area_m2",
    "volume_ml",
    "cartridges_or_cans",
    "names",
    "warmer",
    "slots",
    "used_at",
    "typical_weather",
    "done",
    "reason",
    *(f"{name}_{end}" for name in _LIMITS for end in ("min", "max")),
)


def day_sheet_csv(sheet: DaySheet, time: LocalTime) -> str:
    """Write a sheet; moments are ISO 8601 with the site's offset."""
    work = [_work_cells(row, time) for row in sheet.rows]
    loads = [_load_cells(row, time) for row in sheet.to_load]
    return csv_text(COLUMNS, [[cells.get(column) for column in COLUMNS] for cells in (*work, *loads)])


def _work_cells(row: SheetRow, time: LocalTime) -> dict[str, Cell]:
    work = row.work
    limits: dict[str, Cell] = {}
    for reading in row.readings:
        limits[f"{reading.name}_min"], limits[f"{reading.name}_max"] = reading.low, reading.high
    return {
        "kind": "work",
        "starts_at": time.iso(row.span.start),
        "ends_at": time.iso(row.span.end),
        "bay": row.place,
        "unit_id": work.unit_id,
        "unit": row.unit,
        "customer": row.customer,
        "step": work.name,
        "people": "; ".join(row.people),
        "tools": " ".join(work.tools),
        "product": row.product,
        "area_m2": work.area_m2 or None,
        "volume_ml": work.volume_ml or None,
        "cartridges_or_cans": work.packs or None,
        "names": ", ".join(row.packs),
        "typical_weather": "yes" if work.typical_weather else "no",
        "done": "yes" if work.done else "no",
        "reason": work.reason,
        **limits,
    }


def _load_cells(row: WarmerRow, time: LocalTime) -> dict[str, Cell]:
    return {
        "kind": "load warmer",
        "starts_at": time.iso(row.load.loaded_at),
        "unit_id": row.work.unit_id,
        "step": row.work.name,
        "product": row.product,
        "cartridges_or_cans": row.cartridges,
        "names": row.packs,
        "warmer": row.load.equipment_id,
        "slots": row.slots,
        "used_at": time.iso(row.work.start),
    }
