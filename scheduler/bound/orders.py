"""What lateness asks of each unit: cut into pieces, so that the latest unit of an order is paid for once."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from scheduler.activities.network import Due, Network
from scheduler.bound.chain import Slots

EDGES = (0, 1, 2, 3, 5, 8, 12, 18, 27, 40, 60)
"""Days late at which a piece begins; the last one has no end."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Days late from ``first`` to ``first + width`` of an order that is delivered together, for a price of its own.

    An order's days late are the sum over its pieces of the most that one of its units has in them: exactly, since units
    that are later have at least as much in every piece.
    """

    due: int
    first: int
    width: int


@dataclass(frozen=True, slots=True)
class Member:
    """Units of one order that are alike.

    Attributes
    ----------
    chain : int
    units : tuple of int
        Numbers of their paths.
    late : Slots
        Days late by the slot before which the unit ends, shape (n + 1,).
    direct : Slots
        Weighted days late by the slot before which the unit ends, shape (n + 1,); zeros if they count by pieces.
    pieces : tuple of int
        Pieces of the order.
    """

    chain: int
    units: tuple[int, ...]
    late: Slots
    direct: Slots
    pieces: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Orders:
    """All members and pieces, what is settled, and the step in which weighted lateness can grow."""

    members: tuple[Member, ...]
    pieces: tuple[Piece, ...]
    in_piece: tuple[Slots, ...]
    weights: NDArray[np.int64]
    settled: int


def settled_days(due: Due) -> int:
    """Days late of an order that are history."""
    return max(due.settled, default=0) if due.together else sum(due.settled)


def orders_of(net: Network, chain_of: Sequence[int]) -> Orders:
    """Group the units of each order and cut the lateness of those delivered together into pieces.

    Parameters
    ----------
    net : Network
    chain_of : sequence of int
        Chain of each path.
    """
    path_at = {path.last: p for p, path in enumerate(net.paths)}
    members: list[Member] = []
    pieces: list[Piece] = []
    in_piece: list[Slots] = []
    counted: set[int] = set()
    for d, due in enumerate(net.dues):
        late = np.array(due.late, dtype=np.int64)
        groups: dict[int, list[int]] = {}
        for i in due.members:
            groups.setdefault(chain_of[path_at[i]], []).append(path_at[i])
        counted.update(p for group in groups.values() for p in group)
        numbers: tuple[int, ...] = ()
        if due.together and due.members:
            rows = _pieces(d, late, settled_days(due))
            numbers = tuple(range(len(pieces), len(pieces) + len(rows)))
            pieces += rows
            in_piece += [np.clip(late - row.first, 0, row.width) for row in rows]
        direct = np.zeros_like(late) if due.together else due.weight * late
        members += [Member(chain, tuple(group), late, direct, numbers) for chain, group in groups.items()]
    nobody = np.zeros(net.slots + 1, dtype=np.int64)
    members += [Member(chain_of[p], (p,), nobody, nobody, ()) for p in range(len(net.paths)) if p not in counted]
    weights = np.array([net.dues[piece.due].weight for piece in pieces], dtype=np.int64)
    return Orders(tuple(members), tuple(pieces), tuple(in_piece), weights, sum(d.weight * settled_days(d) for d in net.dues))


def _pieces(d: int, late: Slots, settled: int) -> list[Piece]:
    most = int(late.max())
    edges = [settled + edge for edge in EDGES if settled + edge < most]
    return [Piece(d, a, b - a) for a, b in pairwise([*edges, most])]
