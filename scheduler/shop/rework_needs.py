"""What the table of rework adds to the needs of a unit."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import ceil

from scheduler.shop.fixed import Rework, ReworkKind
from scheduler.shop.layers import packs_of
from scheduler.shop.methods import FILM_STEPS, Step
from scheduler.shop.need import Need
from scheduler.shop.resources import is_stay_of
from scheduler.shop.shop import Shop


def with_rework(shop: Shop, rows: Iterable[Rework], needs: tuple[Need, ...]) -> tuple[Need, ...]:
    """Put the rework of a unit, numbered, after the steps that its rows name; a row that names none of them adds nothing."""
    for row in rows:
        number = row.number or 0
        names = [need.name for need in needs]
        if row.after in names:
            at = names.index(row.after) + 1
            if row.kind is ReworkKind.REST:
                needs = (*needs[: at - 1], *_divided(needs[at - 1], number, row.share_pct / 100), *needs[at:])
                continue
            new = tuple(need for need in _new(shop, row, number, needs[:at], needs[at:]) if need.method is not None)
            needs = _put(needs, at, row, number, new)
    return needs


def _put(needs: tuple[Need, ...], at: int, row: Rework, number: int, new: tuple[Need, ...]) -> tuple[Need, ...]:
    """Put new steps at a place: where the unit is, or in a stay of their own to which it is brought back."""
    here = stay_at(needs, needs[at - 1].name)
    elsewhere = row.stage is not None and not is_stay_of(row.stage, here) and _stay(needs, row.stage)
    if needs[at - 1].step is Step.MOVE_OUT:
        return (*needs[:at], *_stay_again(needs, row.stage if row.stage and elsewhere else here, number, new), *needs[at:])
    if not elsewhere or row.stage is None:
        return (*needs[:at], *new, *needs[at:])
    moves = _stay(needs, here)
    out = [need for need in moves if need.step is Step.MOVE_OUT]
    back = [replace(need, name=f"{need.name}-r{number}") for need in moves if need.step is Step.MOVE_IN]
    later = (replace(need, name=f"{need.name}-r{number}") if need in out else need for need in needs[at:])
    return (*needs[:at], *out, *_stay_again(needs, row.stage, number, new), *back, *later)


def stay_at(needs: Iterable[Need], step: str) -> str:
    """Stay of a step as the move into it says; the yard has none."""
    stay = ""
    for need in needs:
        if need.step is Step.MOVE_IN:
            stay = need.name.partition("-")[2]
        if need.name == step:
            return "" if need.step in {Step.RECEIVE, Step.DISPATCH} else stay
    return ""


def _stay(needs: tuple[Need, ...], stay: str) -> list[Need]:
    """Steps of a stay."""
    return [need for need in needs if stay and stay_at(needs, need.name) == stay]


def _stay_again(needs: tuple[Need, ...], stay: str, number: int, new: tuple[Need, ...]) -> tuple[Need, ...]:
    """What a unit needs that is brought back to a stay, and is inspected once more where it had been."""
    again = [replace(need, name=f"{need.name}-r{number}") for need in _stay(needs, stay)]
    ends = [need for need in again if need.step in {Step.INSPECT, Step.MOVE_OUT}]
    return (*(need for need in again if need.step is Step.MOVE_IN), *new, *ends)


def _divided(need: Need, number: int, share: float) -> Iterator[Need]:
    """Yield what was done of a step that was stopped, and its rest."""
    yield _share_of(need, 1 - share)
    yield replace(_share_of(need, share), name=f"{need.name}-r{number}", rest_of=need.name)


def _share_of(need: Need, share: float) -> Need:
    volume_ml = need.volume_ml * share
    return replace(need, area_m2=need.area_m2 * share, volume_ml=volume_ml, packs=packs_of(volume_ml, need.product))


def _new(shop: Shop, row: Rework, number: int, before: tuple[Need, ...], after: tuple[Need, ...]) -> Iterator[Need]:
    sprayed = [need for need in before if need.step in FILM_STEPS]
    film = next((need for need in sprayed if need.name == row.film), sprayed[-1] if sprayed else None)
    until = next((i for i, need in enumerate(after) if need.step in FILM_STEPS), len(after))
    if film is not None and row.kind is ReworkKind.REDO:
        yield from _steps(shop, number, film.area_m2, Step.ABRADE, Step.WIPE)
        yield replace(film, name=f"{film.name}-r{number}")
    elif film is not None and row.kind is ReworkKind.REPAIR:
        area_m2 = film.area_m2 * row.share_pct / 100
        yield from _steps(shop, number, area_m2, Step.CUT_OUT, Step.WIPE)
        alike = sum(need.packs for need in sprayed if need.product == film.product)
        volume_ml = sum(need.volume_ml for need in sprayed if need.product == film.product) * row.share_pct / 100
        step = Step.TOUCH_UP if Step.TOUCH_UP in shop.method_of else film.step
        packs = ceil(alike * row.share_pct / 100)
        yield Need(step, f"touch_up-r{number}", area_m2, shop.method_of.get(step), film.product, packs, volume_ml)
    else:
        area_m2 = after[until].area_m2 if until < len(after) else film.area_m2 if film else 0.0
        wiped = row.kind is ReworkKind.ABRADE and any(need.step is Step.WIPE and not need.rest_of for need in after[:until])
        prepared = {ReworkKind.WIPE: (Step.WIPE,)}.get(row.kind, (Step.ABRADE,) if wiped else (Step.ABRADE, Step.WIPE))
        for step in prepared:
            yield from _steps(shop, number, area_m2 * (1 - _left_share((*before, *after), step, after[:until])), step)


def _left_share(needs: tuple[Need, ...], kind: Step, ahead: tuple[Need, ...]) -> float:
    """Share of its area that a kind of step has still ahead of it as a rest."""
    of = {need.name: need.rest_of for need in needs}

    def root(name: str) -> str:
        return root(of[name]) if of[name] else name

    rests = [need for need in ahead if need.step is kind and need.rest_of]
    whole = sum(need.area_m2 for need in needs if rests and root(need.name) == root(rests[0].name))
    return sum(need.area_m2 for need in rests) / whole if whole > 0 else 0.0


def _steps(shop: Shop, number: int, area_m2: float, *steps: Step) -> Iterator[Need]:
    yield from (Need(step, f"{step.value}-r{number}", area_m2, shop.method_of.get(step)) for step in steps)
