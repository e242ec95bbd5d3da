"""Published cutting sets, read where they lie beside the project; skipped where they are not there.

Sources: J. O. Berkey, P. Y. Wang, Two-dimensional finite bin-packing algorithms, J. Operational Research Society
38(5), 1987, and S. Martello, D. Vigo, Exact solution of the two-dimensional finite bin packing problem, Management
Science 44(3), 1998 (one sheet size; best known values as listed with the set). F. G. Ortmann, N. Ntene,
J. H. van Vuuren, New and improved level heuristics for the rectangular strip packing and variable-sized bin packing
problems, European J. Operational Research 203(2), 2010 (several sizes; the least area is known, the sets having
been cut from full sheets).
"""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

from benchmarks.sheets.published import joinery_job, one_size, several_sizes
from storyrod.sheets import judge, lay_out
from tests.places import shared_data
from tests.unit.sheets.jobs import kerf_twin


def instances(name: str, wanted: set[str]) -> list[dict[str, Any]]:
    told = json.loads(shared_data("cutting", name).read_text(encoding="utf-8"))
    return [i for i in told["instances"] if i["id"] in wanted]


def test_small_ones_of_one_size_reach_the_best_known() -> None:
    wanted = {"bwmv-c01-n040-01", "bwmv-c03-n040-02", "bwmv-c05-n020-01", "bwmv-c07-n040-01", "bwmv-c09-n040-02"}
    for instance in instances("bwmv.json", wanted):
        parts, stock, rules = one_size(instance)
        plan = lay_out(parts, stock, rules, rounds=4000, tidy=False)
        assert judge(plan, parts, stock, rules) == ()
        assert instance["lb_rot_here"] <= len(plan.sheets) <= instance["ub_rot_guill3"]


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


def test_the_bookcase_comes_from_one_sheet() -> None:
    told = json.loads(shared_data("cutting", "job1-bookcase.json").read_text(encoding="utf-8"))
    parts, stock, rules = joinery_job(told)
    plan = lay_out(parts, stock, rules, rounds=300)

    assert judge(plan, parts, stock, replace(rules)) == ()
    assert plan.cents == round(told["reference"]["cost"] * 100)
    assert plan.boards[0].figures.settings <= told["reference"]["saw"]["settings_sheet_by_sheet"]
