"""Stages without a bay, units that no bay takes, and lifts that are too weak."""

from collections.abc import Iterator
from itertools import pairwise

from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault, choose
from scheduler.shop.methods import MOVE_STEPS, Method, Step
from scheduler.shop.needs import stages_of
from scheduler.shop.resources import Bay, Kind
from scheduler.shop.shop import Shop
from scheduler.shop.unit import Unit


def stages(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report stages of methods that no bay has, words in bays that are no stage, and stages that alternate."""
    if not draft.whole("bays", "methods"):
        return
    inner = {m.stage for m in shop.methods if m.step not in MOVE_STEPS}
    in_bays = {stage for bay in shop.bays for stage in bay.stages}
    for line, method in draft.rows("methods", Method):
        if method.step not in MOVE_STEPS and method.stage not in in_bays:
            cure = choose(method.stage, in_bays - inner, "add it to the stages of a bay")
            yield draft.fault("methods", line, "stage", method.stage, "no bay has this stage", cure)
    for line, bay in draft.rows("bays", Bay):
        for word in set(bay.stages) - inner:
            cure = choose(word, inner - set(bay.stages), "delete it, or use it in methods.csv")
            yield draft.fault("bays", line, "stages", word, "no step of methods.csv has this stage", cure)
    yield from _alternating(draft)


def unit_fits(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report, for each unit and stage that it needs, that no bay of the stage takes it."""
    if not draft.whole("bays", "methods"):
        return
    for line, unit in draft.rows("units", Unit):
        for stage in stages_of(draft.needs[unit.unit_id]):
            bays = [bay for bay in shop.bays if stage in bay.stages]
            if bays and not any(fits(bay, unit) for bay in bays):
                yield _too_large(draft, line, unit, stage, bays)


def lifts(draft: Draft, shop: Shop) -> Iterator[Fault]:
    """Report units that no lift can lift although a move of theirs needs one."""
    needing = [m.step.value for m in shop.methods if m.step in MOVE_STEPS and Kind.LIFT in m.tools]
    strongest = max((e.lift_kg for e in shop.equipment_of(Kind.LIFT) if e.lift_kg is not None and e.count), default=None)
    if not needing or strongest is None or not draft.whole("equipment"):
        return
    for line, unit in draft.rows("units", Unit):
        if unit.mass_kg > strongest:
            problem = f"the strongest lift takes {strongest:,g} kg and {', '.join(needing)} need one"
            cure = "correct the mass, or add a stronger lift to equipment.csv"
            yield draft.fault("units", line, "mass_kg", f"{unit.mass_kg:g}", problem, cure)


def fits(bay: Bay, unit: Unit) -> bool:
    """Whether a bay takes a unit; its length and width may be turned."""
    return not _excess(bay, unit)


def _excess(bay: Bay, unit: Unit) -> dict[str, tuple[float, float]]:
    """Columns of the unit by which it is too large for a bay, with what it has and what the bay takes."""
    sides = {
        "length_m": (max(unit.length_m, unit.width_m), max(bay.max_length_m, bay.max_width_m)),
        "width_m": (min(unit.length_m, unit.width_m), min(bay.max_length_m, bay.max_width_m)),
    }
    rest = {"height_m": (unit.height_m, bay.max_height_m), "mass_kg": (unit.mass_kg, bay.max_mass_kg)}
    return {column: (has, takes) for column, (has, takes) in (sides | rest).items() if has > takes}


def _too_large(draft: Draft, line: int, unit: Unit, stage: str, bays: list[Bay]) -> Fault:
    best = min(bays, key=lambda bay: max(a / b for a, b in _excess(bay, unit).values()))
    over = _excess(best, unit)
    sizes = ", ".join(f"{column} {has:g} against {takes:g}" for column, (has, takes) in over.items())
    problem = f"{unit.unit_id} fits no bay for the stage {stage}; in the nearest, {best.bay_id}, {sizes}"
    column = next(iter(over))
    return draft.fault("units", line, column, f"{getattr(unit, column):g}", problem, "correct the size, or add a larger bay")


def _alternating(draft: Draft) -> Iterator[Fault]:
    order = list(Step)
    inner = [(line, m) for line, m in draft.rows("methods", Method) if m.step not in MOVE_STEPS]
    rows = sorted(inner, key=lambda row: order.index(row[1].step))
    left: list[str] = []
    for (_, before), (line, after) in pairwise(rows):
        left += [before.stage] if before.stage != after.stage else []
        if after.stage in left:
            problem = f"{after.step} goes back to a stage that {before.step} has left"
            yield draft.fault("methods", line, "stage", after.stage, problem, "give steps that follow each other one stage")
            return  # every step after it would look wrong too
