"""The pick list as CSV."""

from scheduler.documents.store.pick import PickList
from scheduler.documents.words.table import csv_text


def pick_list_csv(picks: PickList) -> str:
    """Write a pick list; amounts are in the unit of their row."""
    columns = ("day", "group", "item", "amount", "unit", "source", "note")
    day = picks.day.isoformat()
    return csv_text(columns, [(day, p.group, p.item, p.amount, p.unit, p.source, p.note) for p in picks.picks])
