"""The bound of a product against everything that could be done, tried out on tiny cases."""

from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.material.best_ledger import best_ledger
from scheduler.material.bin_packing import l1, l2
from scheduler.material.bound import least_packs
from scheduler.material.entries import PPM
from scheduler.material.pack import Begun, Film, Lot, PackSheet

Contents = tuple[int, ...]
SHORT = st.lists(st.integers(1, 8), min_size=1, max_size=3)
BEGUN = st.lists(st.integers(3, 6), max_size=1)


def tiny_sheet(heel: int, start: int, recap: int) -> PackSheet:
    """A pack of six units that is always warm and keeps for ever."""
    return PackSheet(6, heel, start, recap, (100,) * 101, tuple(range(102)))


def least_by_trying(volumes: list[int], sheet: PackSheet, begun: list[int]) -> int:
    """Least that can be spent, in millionths of a pack: every split of every film over every choice of packs."""
    start_ppm, recap_ppm = (-(-PPM * ul // sheet.full_ul) for ul in (sheet.start_ul, sheet.recap_ul))
    states = {tuple(sorted(begun)): 0}
    for volume in volumes:
        after: dict[Contents, int] = {}
        for packs, spent in states.items():
            for resumed, opened, contents in splits(volume, packs, sheet):
                cost = spent + resumed * recap_ppm + opened * (PPM + start_ppm)
                after[contents] = min(cost, after.get(contents, cost))
        states = after
    return min(states.values())


def splits(volume: int, packs: Contents, sheet: PackSheet) -> set[tuple[int, int, Contents]]:
    """Packs resumed, packs opened and what all hold after a film, for every way to serve it; each pack serves it once."""
    begun: set[tuple[int, int, Contents]] = {(volume, 0, ())}
    for held in packs:
        gives, grown = held - sheet.heel_ul - sheet.recap_ul, set[tuple[int, int, Contents]]()
        for left, resumed, kept in begun:
            grown.add((left, resumed, (*kept, held)))
            for ul in range(1, min(left, gives) + 1):
                grown.add((left - ul, resumed + 1, (*kept, held - sheet.recap_ul - ul)))
        begun = grown
    full = sheet.full_ul - sheet.start_ul
    return {
        (resumed, len(parts), tuple(sorted((*kept, *(full - ul for ul in parts)))))
        for left, resumed, kept in begun
        for parts in parts_of(left, sheet.usable_ul)
    }


def parts_of(total: int, most: int) -> list[tuple[int, ...]]:
    """Ways to write a number as a sum of numbers from 1 to ``most``, largest first."""
    if total == 0:
        return [()]
    return [(first, *rest) for first in range(1, min(total, most) + 1) for rest in parts_of(total - first, first)]


@settings(max_examples=40, deadline=None)
@given(volumes=SHORT, begun=BEGUN, heel=st.integers(0, 1), start=st.integers(0, 1), recap=st.integers(0, 2))
def test_bound_best_and_ledger_stand_in_this_order(
    volumes: list[int], begun: list[int], heel: int, start: int, recap: int
) -> None:
    """No bound is above the best of all that can be done, and no ledger below it."""
    sheet = tiny_sheet(heel, start, recap)
    least = least_packs(volumes, sheet, begun)
    best_ppm = least_by_trying(volumes, sheet, begun)
    films = [Film(k, "P", 2 * k, 2 * k + 1, ul) for k, ul in enumerate(volumes)]
    stood = [Begun(f"B{k}", "L", "P", ul, 0, 100) for k, ul in enumerate(begun)]
    ledger = best_ledger(films, {"P": sheet}, [Lot("L", "P", 30, 0, 100)], stood)
    assert least.spent_ppm <= best_ppm <= ledger.spent_ppm({"P": sheet})


def fewest_bins(sizes: list[int], bin_size: int) -> int:
    """Fewest bins, by CP-SAT: an exact method that shares nothing with the bounds."""
    from ortools.sat.python import cp_model

    model, bins = cp_model.CpModel(), range(len(sizes))
    used = [model.new_bool_var("") for _ in bins]
    put = [[model.new_bool_var("") for _ in bins] for _ in sizes]
    for row in put:
        model.add_exactly_one(row)
    for b in bins:
        model.add(sum(size * row[b] for size, row in zip(sizes, put, strict=True)) <= bin_size * used[b])
        if b:
            model.add_implication(used[b], used[b - 1])
    model.minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@settings(max_examples=60, deadline=None)
@given(sizes=st.lists(st.integers(1, 20), min_size=1, max_size=8))
def test_l2_lies_between_l1_and_the_optimum(sizes: list[int]) -> None:
    """L1 <= L2 <= fewest bins of 20; and nothing of L1 is more than half a bin for each bin away from the optimum."""
    assert l1(sizes, 20) <= l2(sizes, 20) <= fewest_bins(sizes, 20)
