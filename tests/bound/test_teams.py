"""Whole teams: three people are one team of two, in the steps of every shop that is drawn and in the bound."""

from itertools import combinations_with_replacement

import pytest
from hypothesis import given
from hypothesis import strategies as st
from model.tiny_networks import SLOTS, due, network, person, step

from scheduler.bound.capacity import Capacities
from scheduler.bound.teams import team_sizes
from scheduler.bound.tighten import Tightener

NEEDS = ((("spray", 1), ("stand by", 1)), (("spray", 1),), (("stand by", 2),), (("wash", 1), ("stand by", 2)))


@given(skills=st.lists(st.sets(st.sampled_from(["spray", "stand by", "wash"])), min_size=1, max_size=5))
def test_steps_that_can_be_staffed_at_once_are_within_the_teams(skills: list[set[str]]) -> None:
    """All ways to run up to three steps in one slot: those that named people can meet take no more than there is."""
    steps = [step(f"{n}/work", SLOTS, crew=crew) for n, crew in enumerate(NEEDS)]
    capacities = Capacities(network(*steps, workers=tuple(person(str(w), *has) for w, has in enumerate(skills))))
    for count in (1, 2, 3):
        for chosen in combinations_with_replacement(range(len(NEEDS)), count):
            if _staffed([skill for n in chosen for skill, people in NEEDS[n] for _ in range(people)], skills):
                taken = [0] * len(capacities.names)
                for n in chosen:
                    for row, amount, _ in capacities.uses(steps[n]):
                        taken[row] += amount
                assert all(amount <= room[0] for amount, room in zip(taken, capacities.by_slot, strict=True))


def _staffed(needs: list[str], skills: list[set[str]]) -> bool:
    """Whether people can be named for all needs, each for one: every way is tried."""
    if not needs:
        return True
    rest = ((skills[:w] + skills[w + 1 :]) for w, has in enumerate(skills) if needs[0] in has)
    return any(_staffed(needs[1:], others) for others in rest)


def test_a_group_with_the_same_teams_as_a_smaller_one_is_left_out() -> None:
    """Two who spray and one more who stands by: teams of two are counted among the three, not again among all four."""
    able = {"spray": frozenset({0, 1}), "stand by": frozenset({0, 1, 2}), "wash": frozenset({3})}
    groups = [able["spray"], able["stand by"], frozenset({0, 1, 2, 3})]
    assert team_sizes(groups, [NEEDS[0], (("wash", 1),)], able) == {able["stand by"]: (2,)}


@pytest.mark.parametrize(("people", "least"), [(2, 8), (3, 8), (4, 0)])
def test_the_third_person_is_no_team(people: int, least: int) -> None:
    """Two units of four slots, two people each, a day late for every slot after the fourth: a third person does not help."""
    late = tuple(0 if end <= 4 else 8 for end in range(SLOTS + 1))
    steps = (step(f"{unit}/work", 4, crew=(("hand", 2),), order=unit) for unit in "AB")
    names = ("ada", "ben", "cleo", "dan")[:people]
    net = network(*steps, dues=(due((0,), late), due((1,), late)), workers=tuple(person(name, "hand") for name in names))
    tightener = Tightener(net)
    while not tightener.done and tightener.rounds < 30:
        tightener.step()
    assert tightener.bound == least
