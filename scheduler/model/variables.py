"""Variables of the model in a container that rules read like a sentence."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from scheduler.activities.masks import below, bits, highest, lowest
from scheduler.activities.network import Mask, Network

Literal = cp_model.IntVar
Linear = cp_model.LinearExpr


def domain_of(mask: Mask) -> cp_model.Domain:
    """Slots of a mask as a domain of intervals."""
    edges = bits(mask ^ (mask << 1))
    return cp_model.Domain.from_intervals([[a, b - 1] for a, b in zip(edges[::2], edges[1::2], strict=True)])


@dataclass
class Variables:
    """Variables of one model.

    Attributes
    ----------
    allowed : list of dict
        For each activity and bay class the slots at which it may start; window rules narrow it before the variables
        are made.
    start : list of IntVar
        Start slot of each activity.
    in_class : dict of (stay, class) to literal
        Where a stay is.
    assigned : dict of (activity, worker) to literal
        Who works on what.
    impossible : list of str
        Activities for which the windows leave no start at all.
    """

    net: Network
    model: cp_model.CpModel = field(default_factory=cp_model.CpModel)
    allowed: list[dict[int, Mask]] = field(init=False)
    start: list[cp_model.IntVar] = field(default_factory=list)
    interval: list[cp_model.IntervalVar] = field(default_factory=list)
    in_class: dict[tuple[int, int], Literal] = field(default_factory=dict)
    stay_size: list[cp_model.IntVar] = field(default_factory=list)
    assigned: dict[tuple[int, int], Literal] = field(default_factory=dict)
    by_skill: dict[tuple[int, str, int], Literal] = field(default_factory=dict)
    draws: dict[tuple[int, int], cp_model.IntVar] = field(default_factory=dict)
    impossible: list[str] = field(default_factory=list)
    _ended_by: dict[tuple[int, int], Literal] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Begin with every slot of every class of an activity's stay."""
        self.allowed = []
        for activity in self.net.activities:
            classes = self.net.stays[activity.stay].classes if activity.stay >= 0 else (0,)
            self.allowed.append({c: below(self.net.slots - activity.slots + 1) for c in classes})

    def keep(self, starts: Sequence[Mapping[int, Mask]]) -> None:
        """Leave out all starts but these, given for each activity by bay class."""
        for allowed, kept in zip(self.allowed, starts, strict=True):
            for c in allowed:
                allowed[c] &= kept.get(c, 0)

    def create(self) -> None:
        """Make the variables once the window rules have narrowed what is allowed."""
        for i, activity in enumerate(self.net.activities):
            union = self.union(i)
            if not union:
                self.impossible.append(activity.key)
                union = 1
            start = self.model.new_int_var_from_domain(domain_of(union), f"start {activity.key}")
            self.start.append(start)
            self.interval.append(self.model.new_fixed_size_interval_var(start, activity.slots, activity.key))
        for k in range(len(self.net.stays)):
            self._create_stay(k)
        for i in range(len(self.net.activities)):
            self._link(i)

    def union(self, i: int) -> Mask:
        """Slots at which an activity may start in some class."""
        total = 0
        for mask in self.allowed[i].values():
            total |= mask
        return total

    def _create_stay(self, k: int) -> None:
        stay, model = self.net.stays[k], self.model
        for c in stay.classes:
            self.in_class[k, c] = model.new_bool_var(f"{stay.unit} {stay.stage} in {self.net.classes[c].key}")
        model.add_exactly_one(self.in_class[k, c] for c in stay.classes)
        self.stay_size.append(model.new_int_var(0, self.net.slots, f"{stay.unit} {stay.stage} stays"))

    def _link(self, i: int) -> None:
        k, union = self.net.activities[i].stay, self.union(i)
        for c, mask in self.allowed[i].items():
            if k < 0 or mask == union:
                continue
            if mask:
                self.model.add_linear_expression_in_domain(self.start[i], domain_of(mask)).only_enforce_if(self.in_class[k, c])
            else:
                self.model.add(self.in_class[k, c] == 0)

    def end(self, i: int) -> Linear:
        """End slot of an activity."""
        return self.start[i] + self.net.activities[i].slots

    def where(self, i: int, c: int) -> list[Literal]:
        """Literals that say that an activity is in a class: none for the yard."""
        k = self.net.activities[i].stay
        return [self.in_class[k, c]] if k >= 0 else []

    def starts_from(self, i: int, slot: int) -> Literal | bool:
        """Return the literal that an activity starts at or after ``slot``."""
        union = self.union(i)
        if not union or lowest(union) >= slot:
            return True
        if highest(union) < slot:
            return False
        if (i, slot) not in self._ended_by:
            literal = self.model.new_bool_var(f"{self.net.activities[i].key} from {slot}")
            self.model.add(self.start[i] >= slot).only_enforce_if(literal)
            self.model.add(self.start[i] < slot).only_enforce_if(~literal)
            self._ended_by[i, slot] = literal
        return self._ended_by[i, slot]

    def start_in(self, i: int, mask: Mask) -> Literal:
        """Return the literal that an activity starts in one of the slots of ``mask``; it implies, it is not implied."""
        if (i, -mask) not in self._ended_by:
            literal = self.model.new_bool_var(f"{self.net.activities[i].key} in a group")
            self.model.add_linear_expression_in_domain(self.start[i], domain_of(mask)).only_enforce_if(literal)
            self._ended_by[i, -mask] = literal
        return self._ended_by[i, -mask]

    def in_any(self, k: int, classes: tuple[int, ...]) -> Literal:
        """Return the literal that a stay is in one of several classes."""
        literal = self.model.new_bool_var("")
        self.model.add(sum(self.in_class[k, c] for c in classes) == literal)
        return literal
