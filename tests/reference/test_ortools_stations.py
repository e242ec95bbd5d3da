"""Source: OR-Tools CP-SAT 9.15, a solver that proves its optimum: places that serve rows.

Where: its proof, on rows of stations drawn here: the fewest places that serve them all.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from itertools import pairwise

from ortools.sat.python import cp_model

from storyrod.machining._shared_search import StationRow, fewest_shared, tightened


def some_row(rng: random.Random) -> StationRow:
    """Return two to six stations as joints have them, each in a window of some tens of steps."""
    base = [rng.randint(74, 90)]
    for _ in range(rng.randint(1, 5)):
        base.append(base[-1] + rng.randint(120, 320))
    slack = rng.randint(20, 90)
    windows = tuple((max(0, b - slack), b + slack) for b in base)
    return StationRow(tuple(base), windows, 64, (360,) * (len(base) - 1), rng.randint(1, 4))


def can_serve(rows: Sequence[StationRow], count: int) -> bool:
    """Whether so many places serve every row, as the solver proves."""
    model = cp_model.CpModel()
    low, high = min(w[0] for r in rows for w in r.windows), max(w[1] for r in rows for w in r.windows)
    places = [model.new_int_var(low, high, f"s{i}") for i in range(count)]
    for a, b in pairwise(places):
        model.add(a < b)
    for n, row in enumerate(rows):
        taken = [model.new_int_var(a, b, f"p{n}_{k}") for k, (a, b) in enumerate(row.windows)]
        for k, gap in enumerate(row.gaps):
            model.add_linear_constraint(taken[k + 1] - taken[k], row.gap_min, gap)
        for k, at in enumerate(taken):
            which = [model.new_bool_var(f"w{n}_{k}_{i}") for i in range(count)]
            model.add_exactly_one(which)
            for place, chosen in zip(places, which, strict=True):
                model.add(at == place).only_enforce_if(chosen)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.INFEASIBLE)
    return status != cp_model.INFEASIBLE


def test_a_solver_finds_no_fewer_stations() -> None:
    rng = random.Random(3)
    left_open = 0
    for _ in range(60):
        rows = [some_row(rng) for _ in range(rng.randint(2, 8))]
        found = fewest_shared(rows)
        if not found.proven:
            left_open += 1
            assert not can_serve([tightened(r) for r in rows], len(found.stations) - 1)
    assert left_open  # some bounds are not reached, else the solver is asked nothing
