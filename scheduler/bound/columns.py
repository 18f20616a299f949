"""A way that a unit takes as the master sees it, and what may be assumed of how late units and orders are."""

from dataclasses import dataclass, field

from scheduler.bound.capacity import Amounts


@dataclass(frozen=True, slots=True)
class Column:
    """A way of a member's unit: what it costs, and what it takes.

    Attributes
    ----------
    late : int
        Days late of the unit.
    direct : int
        Weighted days late that count directly.
    in_pieces : tuple of int
        Days in each of the member's pieces.
    events : Amounts
        Shape (events, 3): ``amount`` of ``resource`` is taken from the first slot on to before ``end``, as (resource, amount,
        end); what is taken only later has a second event that gives it back.
    """

    member: int
    late: int
    direct: int
    in_pieces: tuple[int, ...]
    events: Amounts


@dataclass(frozen=True, slots=True)
class Limits:
    """What is assumed of how late orders are.

    Attributes
    ----------
    most, least : dict of int to int
        By member the most and the least days that its unit is late.
    floor : dict of int to int
        By piece the least days that the order has in it.
    """

    most: dict[int, int] = field(default_factory=dict)
    least: dict[int, int] = field(default_factory=dict)
    floor: dict[int, int] = field(default_factory=dict)

    def allow(self, column: Column) -> bool:
        """Whether a way keeps to them."""
        return self.least.get(column.member, 0) <= column.late <= self.most.get(column.member, column.late)


ANYTHING = Limits()
