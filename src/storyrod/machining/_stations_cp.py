"""The fewest stations by constraint programming, where no even ladder reaches the bound."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from storyrod.machining._stations import StationRange


def fewest_by_cp(
    lengths: Sequence[float], rules: StationRange, places: Sequence[float], least: int, *, limit_s: float, seed: int
) -> tuple[tuple[float, ...], bool]:
    """Return the fewest places that serve every length, and whether that is proven.

    For each length a path runs over the places that are stations: from the start to a first one, from each to a next
    one within the pitch, from a last one to the end.
    """
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    used = [model.new_bool_var(f"s{i}") for i in range(len(places))]
    model.add(sum(used) >= least)
    for length in lengths:
        _add_path(model, used, places, length, rules)
    model.minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = seed
    solver.parameters.max_deterministic_time = limit_s
    solver.parameters.max_time_in_seconds = 3 * limit_s
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return (), False
    taken = tuple(p for p, u in zip(places, used, strict=True) if solver.value(u))
    return taken, status == cp_model.OPTIMAL


def _add_path(model, used, places: Sequence[float], length: float, rules: StationRange) -> None:  # type: ignore[no-untyped-def]  # noqa: ANN001  # typed by a library loaded late
    inside = [i for i, p in enumerate(places) if rules.end_min - 1e-9 <= p <= length - rules.end_min + 1e-9]
    taken = {i: model.new_bool_var(f"t{length:g}_{i}") for i in inside}
    for i in inside:
        model.add_implication(taken[i], used[i])
        _needs_one(model, taken[i], [taken[j] for j in inside if _follows(places[i], places[j], rules)],
                   free=places[i] >= length - rules.pitch - 1e-9)  # fmt: skip
        _needs_one(model, taken[i], [taken[j] for j in inside if _follows(places[j], places[i], rules)],
                   free=places[i] <= rules.end + 1e-9)  # fmt: skip
        for j in inside:
            if 0 < places[j] - places[i] < rules.gap_min - 1e-9:
                model.add_bool_or([taken[i].negated(), taken[j].negated()])
    model.add_bool_or([taken[i] for i in inside if places[i] <= rules.end + 1e-9])
    model.add(sum(taken.values()) >= rules.least)


def _needs_one(model, this, others, *, free: bool) -> None:  # type: ignore[no-untyped-def]  # noqa: ANN001
    if not free:
        model.add_bool_or([this.negated(), *others])


def _follows(at: float, other: float, rules: StationRange) -> bool:
    return rules.gap_min - 1e-9 <= other - at <= rules.pitch + 1e-9
