"""The linear programme over the ways found so far, for HiGHS: its dual prices say where capacity is worth something."""

from dataclasses import dataclass, field

import highspy
import numpy as np
from highspy import _core
from numpy.typing import NDArray

from scheduler.bound.capacity import Amounts
from scheduler.bound.columns import ANYTHING, Column, Limits
from scheduler.bound.relaxation import Relaxation

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Solved:
    """Objective, prices, days in each piece and how much of each column is taken; ``fits`` if there is no misfit."""

    objective: float
    price: Floats
    share: Floats
    in_pieces: Floats
    taken: Floats
    fits: bool


@dataclass
class Master:
    """Rows: a unit of each member, what it has in each piece, capacities. Columns: pieces, misfits, ways.

    A misfit stands for a unit without a way and costs more than any way could.
    """

    relaxation: Relaxation
    columns: list[Column] = field(default_factory=list)
    _index: list[Amounts] = field(default_factory=list)
    _value: list[Floats] = field(default_factory=list)
    _seen: set[bytes] = field(default_factory=set)

    def __post_init__(self) -> None:
        """Count the fixed rows."""
        orders = self.relaxation.orders
        self.units = np.array([len(member.units) for member in orders.members], dtype=np.float64)
        self.fixed = len(orders.members) + len(self.relaxation.shares)
        most = max((int(due.weight * max(due.late)) for due in self.relaxation.net.dues), default=1)
        self.misfit = 10.0 * max(most, 1)

    def add(self, column: Column) -> bool:
        """Add a column; False if it is there."""
        word = column.member.to_bytes(4, "little") + column.events.tobytes()
        if word in self._seen:
            return False
        self._seen.add(word)
        self.columns.append(column)
        index, value = [column.member], [1.0]
        for piece, days in zip(self.relaxation.orders.members[column.member].pieces, column.in_pieces, strict=True):
            if days:
                index.append(len(self.units) + self.relaxation.share_at[column.member, piece])
                value.append(float(days))
        use = self.relaxation.use(column)
        there = np.flatnonzero(use)
        self._index.append(np.concatenate([np.array(index, dtype=np.int64), self.fixed + there]))
        self._value.append(np.concatenate([np.array(value), use[there] / self._size(there)]))
        return True

    def _size(self, rows: Amounts) -> Floats:
        """Capacities as the unit of each row, so that its coefficients are near 1."""
        return np.maximum(self.relaxation.rows.capacity[rows], 1).astype(np.float64)

    def extend(self, before: int) -> None:
        """Let the columns take part in the rows from number ``before`` on."""
        for k, column in enumerate(self.columns):
            use = self.relaxation.use(column, before)
            there = np.flatnonzero(use)
            self._index[k] = np.concatenate([self._index[k], self.fixed + before + there])
            self._value[k] = np.concatenate([self._value[k], use[there] / self._size(before + there)])

    def solve(self, limits: Limits = ANYTHING) -> Solved:
        """Solve with a fresh solver: one that was used before has been seen to report a false optimum."""
        solver = _core._Highs()  # the class above it greets on standard output
        solver.setOptionValue("output_flag", False)
        solver.setOptionValue("threads", 1)
        solver.passModel(self._model(limits))
        solver.run()
        solution = solver.getSolution()
        dual, members = np.maximum(-np.array(solution.row_dual), 0.0), len(self.units)
        price = dual[self.fixed :] / self._size(np.arange(len(self.relaxation.rows)))
        objective = solver.getInfo().objective_function_value + self.relaxation.orders.settled
        pieces, misfits, taken = np.split(np.array(solution.col_value), np.cumsum([len(self.relaxation.orders.pieces), members]))
        return Solved(objective, price, dual[members : self.fixed], pieces, taken, bool(misfits.sum() < 1e-6))

    def _model(self, limits: Limits) -> highspy.HighsLp:
        orders, capacity = self.relaxation.orders, self.relaxation.rows.capacity
        heads = [self._piece(number) for number in range(len(orders.pieces))]
        misfits = [(np.array([m]), np.ones(1)) for m in range(len(self.units))]
        index = [i for i, _ in (*heads, *misfits)] + self._index
        value = [v for _, v in (*heads, *misfits)] + self._value
        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(index), self.fixed + len(capacity)
        direct = np.array([column.direct for column in self.columns], dtype=np.float64)
        lp.col_cost_ = np.concatenate([orders.weights.astype(np.float64), np.full(len(self.units), self.misfit), direct])
        least = np.zeros(len(index))
        least[list(limits.floor)] = list(limits.floor.values())
        open_ = np.array([limits.allow(column) for column in self.columns], dtype=bool)
        lp.col_lower_ = least
        lp.col_upper_ = np.concatenate(
            [np.full(len(index) - len(open_), highspy.kHighsInf), np.where(open_, highspy.kHighsInf, 0.0)]
        )
        lp.row_lower_ = np.concatenate([self.units, np.full(lp.num_row_ - len(self.units), -highspy.kHighsInf)])
        lp.row_upper_ = np.concatenate([self.units, np.zeros(self.fixed - len(self.units)), np.minimum(capacity, 1)])
        lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
        lp.a_matrix_.start_ = np.concatenate([[0], np.cumsum([len(i) for i in index])]).astype(np.int32)
        lp.a_matrix_.index_ = np.concatenate(index).astype(np.int32)
        lp.a_matrix_.value_ = np.concatenate(value)
        return lp

    def _piece(self, number: int) -> tuple[Amounts, Floats]:
        """A piece of an order covers what each of its members has in it, unit by unit."""
        rows = [k for k, (_, piece) in enumerate(self.relaxation.shares) if piece == number]
        units = [self.units[self.relaxation.shares[k][0]] for k in rows]
        return np.array(rows, dtype=np.int64) + len(self.units), -np.array(units, dtype=np.float64)
