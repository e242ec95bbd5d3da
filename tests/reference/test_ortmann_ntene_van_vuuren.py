"""Source: Ortmann, Ntene and van Vuuren, European J. Operational Research 203(2), 2010.

Where: their sets of several sizes, cut from full sheets, so that the least area is known; read where they lie beside
the project, and skipped where they do not.
"""

from __future__ import annotations

import json
from typing import Any

import pytest

from benchmarks.sheets.published import several_sizes
from storyrod.sheets import judge, lay_out
from tests.places import shared_data
from tests.unit.sheets.jobs import kerf_twin


def instances(name: str, wanted: set[str]) -> list[dict[str, Any]]:
    told = json.loads(shared_data("cutting", name).read_text(encoding="utf-8"))
    return [i for i in told["instances"] if i["id"] in wanted]


def test_sheets_cut_up_without_waste_are_put_together_again() -> None:
    wanted = {"onv-nice-n025-k2-2", "onv-path-n025-k4-1", "onv-nice-n050-k4-1", "onv-path-n050-k2-2"}
    for instance in instances("vsheet.json", wanted):
        parts, stock, rules = several_sizes(instance)
        plan = lay_out(parts, stock, rules, rounds=400, tidy=False)
        assert judge(plan, parts, stock, rules) == ()
        assert sum(s.length * s.width for s in plan.sheets) == instance["opt_area"]


@pytest.mark.parametrize("kerf", [2.2, 8.0])
def test_kerf_twins_keep_their_best_value(kerf: float) -> None:
    for instance in instances("vsheet.json", {"onv-nice-n025-k2-2", "onv-path-n025-k2-2", "onv-path-n050-k2-2"}):
        plain, stock, _ = several_sizes(instance)
        parts, stock, rules = kerf_twin(plain, stock, kerf)
        plan = lay_out(parts, stock, rules, rounds=400, tidy=False)
        areas = {s.id: round(s.length + kerf) * round(s.width + kerf) // 100 for s in stock}
        assert judge(plan, parts, stock, rules) == ()
        assert sum(areas[s.stock] for s in plan.sheets) == instance["opt_area"]
