"""Methods that ask for people whom the crew does not have."""

from collections.abc import Iterator

from scheduler.shop.draft import Draft
from scheduler.shop.faults import Fault, choose
from scheduler.shop.methods import FILM_STEPS, Method
from scheduler.shop.product_sheet import Supply
from scheduler.shop.shop import Shop

People = list[frozenset[str]]


def skills(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report, for each method, a skill that nobody or too few have, and skills that only together are too many."""
    if not draft.listed("crew") or not draft.tables["crew"].raw:
        return
    people = _people(draft)
    for line, method in draft.rows("methods", Method):
        short = list(_short(draft, line, method, people))
        yield from short
        if not short and not _staffed(method, people):
            problem = f"{_heads(method)} different people are needed at once, the crew cannot fill every place"
            cure = "teach somebody one of the skills, or add a person to crew.csv"
            yield draft.fault("methods", line, "people", " ".join(method.people), problem, cure)


def never_alone(draft: Draft, _shop: Shop) -> Iterator[Fault]:
    """Report film steps that would have somebody spray cartridges alone."""
    steps = {
        need.step
        for needs in draft.needs.values()
        for need in needs
        if need.step in FILM_STEPS and need.product is not None and need.product.supply is Supply.CARTRIDGE
    }
    for line, method in draft.rows("methods", Method):
        if method.step in steps and _heads(method) < 2:
            problem = "nobody sprays alone: a second person stands by"
            yield draft.fault("methods", line, "people", " ".join(method.people), problem, "add attendant:1")


def _people(draft: Draft) -> People:
    cells = (row.cells.get("skills", "") for row in draft.tables["crew"].raw)
    return [frozenset(cell.replace(",", " ").split()) for cell in cells]


def _short(draft: Draft, line: int, method: Method, people: People) -> Iterator[Fault]:
    known = frozenset[str]().union(*people)
    for skill, count in _wanted(method).items():
        able = sum(skill in person for person in people)
        if able < count:
            have = "nobody in the crew has" if able == 0 else f"only {able} of the crew {'has' if able == 1 else 'have'}"
            problem = f"{have} the skill {skill}, {count} needed for {method.step}"
            cure = choose(skill, known - {skill}, "give the skill to somebody in crew.csv")
            yield draft.fault("methods", line, "people", f"{skill}:{count}", problem, cure)


def _wanted(method: Method) -> dict[str, int]:
    wanted: dict[str, int] = {}
    for skill, count in method.crew_needs():
        wanted[skill] = wanted.get(skill, 0) + count
    return wanted


def _heads(method: Method) -> int:
    return sum(count for _, count in method.crew_needs())


def _staffed(method: Method, people: People) -> bool:
    """Whether every place gets a person of its own: a matching by augmenting paths."""
    places = [skill for skill, count in _wanted(method).items() for _ in range(min(count, len(people) + 1))]
    holder: dict[int, int] = {}
    return all(_place(place, places, people, holder, set()) for place in range(len(places)))


def _place(place: int, places: list[str], people: People, holder: dict[int, int], tried: set[int]) -> bool:
    for person, has in enumerate(people):
        if places[place] in has and person not in tried:
            tried.add(person)
            if person not in holder or _place(holder[person], places, people, holder, tried):
                holder[person] = place
                return True
    return False
