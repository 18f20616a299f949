"""Whole teams: where steps take two of a group at once, three people are one team and not one and a half.

What at most ``capacity`` can do at a time, each step taking a whole number of them, holds in whole teams as well: both sides
divided by the size of a team and rounded down (a cut of Chvatal and Gomory of rank one).
"""

from collections.abc import Iterable, Mapping, Sequence

Group = frozenset[int]
Crew = tuple[tuple[str, int], ...]
MOST_PEOPLE = 9
"""People from which on the one who is left over hardly counts."""


def taken_of(group: Group, crew: Crew, able: Mapping[str, Group]) -> int:
    """How many of a group a step takes for certain: those needs that nobody else can meet."""
    return sum(count for skill, count in crew if able[skill] <= group)


def team_sizes(groups: Sequence[Group], crews: Iterable[Crew], able: Mapping[str, Group]) -> dict[Group, tuple[int, ...]]:
    """Find the groups in which somebody may be left over, with the sizes of their teams.

    Parameters
    ----------
    groups : sequence of frozenset of int
        Workers who together meet some of the needs.
    crews : iterable of tuple of (skill, count)
        What the steps need.
    able : Mapping[str, frozenset of int]
        Workers with each skill.

    Returns
    -------
    dict of frozenset of int to tuple of int
        A group is left out where a smaller one within it has the same teams.
    """
    needs = list(dict.fromkeys(crews))
    kept: list[tuple[Group, tuple[int, tuple[int, ...]]]] = []
    for group in sorted(groups, key=len):
        taken = [taken_of(group, crew, able) for crew in needs]
        for size in range(2, max(taken, default=0) + 1) if len(group) <= MOST_PEOPLE else ():
            teams = tuple(people // size for people in taken)
            if not any(other < group and rest == (size, teams) for other, rest in kept):
                kept.append((group, (size, teams)))
    found: dict[Group, tuple[int, ...]] = {}
    for group, (size, _) in kept:
        found[group] = (*found.get(group, ()), size)
    return found
