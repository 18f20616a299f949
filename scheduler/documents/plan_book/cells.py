"""What cells and heads of several sheets say alike."""

from pydantic import BaseModel

from scheduler.documents.words.direction import without_controls
from scheduler.documents.words.work_words import WorkWords


def says(model: type[BaseModel], field: str) -> str:
    """What the schedule's own model says of a field."""
    return model.model_fields[field].description or ""


def unit_name(words: WorkWords, unit_id: str) -> str:
    """Name of a unit; empty where the shop does not know it."""
    row = words.shop.unit_by_id.get(unit_id)
    return "" if row is None else plain(row.name)


def plain(text: str) -> str:
    """A name without controls of direction: in a cell of its own it turns no neighbour."""
    return without_controls(text)
