"""The fewest shared stations by constraint programming, where the quick search does not reach the bound."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from storyrod.machining._shared_search import Places, Row


def fewest_by_cp(rows: Sequence[Row], known: Places, bound: int, *, limit_s: float, seed: int) -> tuple[Places, int]:
    """Return the fewest stations found, never more than are `known`, and the bound that was proven.

    One number of stations after another is tried from the bound upward: the first that serves is the fewest. One worker
    and a limit of counted work, so that the same input gives the same answer.
    """
    left_s = limit_s
    for count in range(bound, len(known)):
        stations, proven, used_s = _with_count(rows, count, limit_s=left_s, seed=seed)
        if stations:
            return stations, bound
        if not proven:
            return known, bound
        bound, left_s = count + 1, max(0.0, left_s - used_s)
        if left_s <= 0:
            return known, bound
    return known, bound


def _with_count(rows: Sequence[Row], count: int, *, limit_s: float, seed: int) -> tuple[Places, bool, float]:
    """Return `count` stations that serve every row, or () and whether it is proven that none do; and the work."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    low = min(w[0] for r in rows for w in r.windows)
    high = max(w[1] for r in rows for w in r.windows)
    places = [model.new_int_var(low, high, f"s{i}") for i in range(count)]
    for a, b in pairwise(places):
        model.add(a < b)
    for number, row in enumerate(rows):
        taken = [model.new_int_var(a, b, f"p{number}_{k}") for k, (a, b) in enumerate(row.windows)]
        for k, gap in enumerate(row.gaps):
            model.add_linear_constraint(taken[k + 1] - taken[k], row.gap_min, gap)
        for k, at in enumerate(taken):
            # At least k stations lie before it, and as many as come after it beyond.
            able = range(k, count - (len(taken) - 1 - k))
            which = {i: model.new_bool_var(f"w{number}_{k}_{i}") for i in able}
            model.add_exactly_one(which.values())
            for i, chosen in which.items():
                model.add(at == places[i]).only_enforce_if(chosen)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = seed
    solver.parameters.max_deterministic_time = limit_s
    solver.parameters.max_time_in_seconds = 5 * limit_s
    status = solver.solve(model)
    used_s = solver.response_proto.deterministic_time
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return tuple(solver.value(p) for p in places), False, used_s
    return (), status == cp_model.INFEASIBLE, used_s
