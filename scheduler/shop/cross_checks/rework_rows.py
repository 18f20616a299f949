"""Rework that fits nowhere: of a step, a film or a stage that the unit does not have, or of a share that cannot be."""

from collections.abc import Iterator

from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault, choose
from scheduler.shop.fixed import Rework, ReworkKind
from scheduler.shop.methods import FILM_STEPS
from scheduler.shop.need import Need
from scheduler.shop.needs import stages_of
from scheduler.shop.shop import Shop


def rework_steps(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report rework after a step that the unit does not have, or of a film before which there is none."""
    seen: set[tuple[str, int]] = set()
    for line, row in draft.rows("rework", Rework):
        if row.number is not None and (row.unit_id, row.number) in seen:
            problem = f"another row of {row.unit_id} has this number"
            yield draft.fault("rework", line, "number", str(row.number), problem, "give it another, or leave it empty")
        seen.add((row.unit_id, row.number or 0))
        names = [need.name for need in draft.needs.get(row.unit_id, ())]
        if names and row.after not in names:
            cure = choose(row.after, names, f"use one of {', '.join(names)}")
            yield draft.fault("rework", line, "after", row.after, f"{row.unit_id} has no such step", cure)
            continue
        needs = draft.needs.get(row.unit_id, ())
        if names and row.kind is ReworkKind.REST:
            yield from _wrong_rest(draft, line, row, next(need for need in needs if need.name == row.after))
            continue
        if row.stage is not None and names:
            yield from _wrong_stage(draft, line, row)
        films = [n.name for n in needs[: names.index(row.after) + 1] if n.step in FILM_STEPS] if names else []
        if names and row.kind in {ReworkKind.REPAIR, ReworkKind.REDO} and (not films or (row.film and row.film not in films)):
            problem = f"{row.after} of {row.unit_id} has no film {row.film or ''} before it".replace("  ", " ")
            yield draft.fault(
                "rework", line, "film", row.film, problem, choose(row.film or "", films, "name a film that is there")
            )


def _wrong_stage(draft: Draft, line: int, row: Rework) -> Iterator[Fault]:
    stages = stages_of(draft.needs.get(row.unit_id, ()))
    if row.kind not in {ReworkKind.REPAIR, ReworkKind.REDO}:
        yield draft.fault("rework", line, "stage", row.stage, f"{row.kind.value} is done where the unit is", "leave it empty")
    elif row.stage not in stages:
        cure = choose(row.stage or "", stages, f"use one of {', '.join(stages)}, or leave it empty")
        yield draft.fault("rework", line, "stage", row.stage, f"{row.unit_id} has no such stage", cure)


def _wrong_rest(draft: Draft, line: int, row: Rework, stopped: Need) -> Iterator[Fault]:
    if not 0 < row.share_pct < 100:
        problem, cure = f"what is left of {row.after} is a share of it", "write the share of its area, above 0 and below 100"
        yield draft.fault("rework", line, "share_pct", f"{row.share_pct:g}", problem, cure)
    elif not stopped.can_be_divided:
        problem = f"{row.after} has no rate over its area, so no share of it can be left"
        yield draft.fault("rework", line, "after", row.after, problem, "delete the row: the step is done as a whole")
