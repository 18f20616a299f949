"""Marks that a plan uses, with their hatching for a small picture."""

from collections.abc import Iterable

from scheduler.documents.words.step_marks import HATCH_PATHS, INK, MARKS


def legend(kinds: Iterable[str]) -> list[dict[str, str]]:
    """Marks of the kinds, in drawing order: letter, label, fill, path of the hatching, ink."""
    used = set(kinds)
    return [
        {"letter": mark.letter, "label": mark.label, "fill": mark.fill, "path": HATCH_PATHS[mark.hatch], "ink": INK}
        for kind, mark in MARKS.items()
        if kind in used
    ]
