"""Methods that are needed and missing, coating systems without a coat for every surface, and tools that the shop lacks."""

from collections.abc import Iterator

from scheduler.shop.coating_system import AppliesTo, Coat
from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault, choose
from scheduler.shop.methods import FILM_STEPS, YARD_STEPS, Method, Step
from scheduler.shop.need import Need
from scheduler.shop.product_sheet import Supply
from scheduler.shop.resources import Kind
from scheduler.shop.shop import Shop

_YARD = "yard"


def missing_methods(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report steps that units need and no method tells how to do, each once with a unit that needs it."""
    if not draft.whole("methods"):
        return
    missing: dict[Step, str] = {}
    for unit_id, need in _all_needs(draft):
        if need.method is None:
            missing.setdefault(need.step, unit_id)
    for step, unit_id in missing.items():
        problem = f"there is no row for {step}, which {unit_id} needs"
        yield draft.fault("methods", None, "step", step.value, problem, f"add a row for {step}")


def yard_steps(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report steps at pick-up and drop that are not in the yard, and other steps that are."""
    for line, method in draft.rows("methods", Method):
        if (method.step in YARD_STEPS) != (method.stage == _YARD):
            wanted = _YARD if method.step in YARD_STEPS else "a stage that a bay has"
            problem = f"{method.step} is {'not ' if method.step in YARD_STEPS else ''}in the stage {_YARD}"
            yield draft.fault("methods", line, "stage", method.stage, problem, f"write {wanted}")


def coats_everywhere(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report coating systems none of whose coats goes on all surfaces."""
    rows = list(draft.rows("coating_systems", Coat))
    covered = {coat.system_id for _, coat in rows if coat.applies_to is AppliesTo.ALL}
    if not draft.whole("coating_systems"):
        return
    for system_id, line in {coat.system_id: line for line, coat in reversed(rows)}.items():
        if system_id not in covered:
            problem = "no coat of this system goes on all surfaces"
            cure = "write all under applies_to of at least one coat"
            yield draft.fault("coating_systems", line, "system_id", system_id, problem, cure)


def tools(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report tools of methods that are no kind of equipment, or of which there is none."""
    kinds = [kind.value for kind in Kind]
    there = {
        row.cells.get("kind", "").strip() for row in draft.tables["equipment"].raw if row.cells.get("count", "").strip() != "0"
    }
    for line, method in draft.rows("methods", Method):
        for word in dict.fromkeys(method.tools):
            if word not in kinds:
                cure = choose(word, kinds, "delete it")
                yield draft.fault("methods", line, "tools", word, "no kind of equipment", cure)
            elif word not in there and draft.listed("equipment"):
                problem = f"{method.step} needs a {word} and there is none"
                yield draft.fault("methods", line, "tools", word, problem, f"add a {word} to equipment.csv")


def sprayed_with_gun(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report methods of films sprayed from cartridges that name no gun."""
    steps = {need.step for _, need in _all_needs(draft) if _from_cartridge(need)}
    for line, method in draft.rows("methods", Method):
        if method.step in steps and Kind.GUN not in method.tools:
            problem = "cartridges are sprayed with a gun and the method names none"
            yield draft.fault("methods", line, "tools", " ".join(method.tools), problem, "add gun to the tools")


def _from_cartridge(need: Need) -> bool:
    return need.step in FILM_STEPS and need.product is not None and need.product.supply is Supply.CARTRIDGE


def _all_needs(draft: Draft) -> Iterator[tuple[str, Need]]:
    return ((unit_id, need) for unit_id, needs in draft.needs.items() for need in needs)
