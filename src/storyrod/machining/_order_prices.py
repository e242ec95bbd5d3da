"""Prices of leaving and of entering each node, such that no arc costs less than the two together.

They are the dual of the assignment problem, in which every node but the last is followed by another, and rings are
allowed. A path is such an assignment: so what it will still cost is no less than the prices of all that it has still to
leave and to enter. Found by shortest augmenting paths (Kuhn, 1955; Edmonds and Karp, 1972; from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from storyrod.machining._order_problem import OrderProblem

_NEVER = 1 << 60


@dataclass(frozen=True, slots=True)
class Prices:
    """Prices by node, whole numbers of either sign.

    Attributes:
        leave: `leave[i] + enter[j]` is at most the cost of going from i to j.
        enter: the start's is 0, for nothing leads there.
        end: of ending; with `leave` of any node that may be the last it comes to 0 at most.
    """

    leave: tuple[int, ...]
    enter: tuple[int, ...]
    end: int

    @property
    def total(self) -> int:
        """What no order is cheaper than."""
        return sum(self.leave) + sum(self.enter) + self.end


def find_prices(problem: OrderProblem) -> Prices:
    """Return the prices of highest total for the arcs that an order may take."""
    n = problem.n
    dear = 1 + sum(max((problem.costs[i][j] for j in problem.follows[i]), default=0) for i in range(n))
    rows = [[dear] * n for _ in range(n)]  # the last column is the end
    for i in range(n):
        for j in problem.follows[i]:
            rows[i][j - 1] = problem.costs[i][j]
        if not any(before >> i & 1 for before in problem.before):
            rows[i][n - 1] = 0
    leave, enter = _dual(rows)
    return Prices(leave=tuple(leave), enter=(0, *enter[:-1]), end=enter[-1])


def _dual(rows: Sequence[Sequence[int]]) -> tuple[list[int], list[int]]:
    """Return what each row and each column is worth, for the cheapest assignment of rows to columns.

    Rows are given a column one after the other; each time the cheapest chain of exchanges is followed to a free column,
    and what rows and columns are worth is changed by as much as keeps all arcs of the chain tight.
    """
    n = len(rows)
    row_worth, column_worth = [0] * (n + 1), [0] * (n + 1)
    row_of = [0] * (n + 1)  # of each column, counted from 1; column 0 is where a new row stands
    for row in range(1, n + 1):
        row_of[0] = row
        column = 0
        least, came = [_NEVER] * (n + 1), [0] * (n + 1)
        settled = [False] * (n + 1)
        while row_of[column]:
            settled[column] = True
            at, step, following = row_of[column], _NEVER, 0
            costs, worth = rows[at - 1], row_worth[at]
            for j in range(1, n + 1):
                if settled[j]:
                    continue
                over = costs[j - 1] - worth - column_worth[j]
                if over < least[j]:
                    least[j], came[j] = over, column
                if least[j] < step:
                    step, following = least[j], j
            for j in range(n + 1):
                if settled[j]:
                    row_worth[row_of[j]] += step
                    column_worth[j] -= step
                else:
                    least[j] -= step
            column = following
        while column:
            row_of[column] = row_of[came[column]]
            column = came[column]
    return row_worth[1:], column_worth[1:]
