"""Source: Berkey and Wang, J. Operational Research Society 38(5), 1987; Martello and Vigo, Management Science 44(3),
1998.

Where: their sets of one sheet size, with the best known values listed with them; read where they lie beside the
project, and skipped where they do not.
"""

from __future__ import annotations

import json
from typing import Any

from benchmarks.sheets.published import one_size
from storyrod.sheets import judge, lay_out
from tests.places import shared_data


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
