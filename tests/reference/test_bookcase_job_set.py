"""Source: the bookcase of the sets of cutting jobs beside the project.

Where: job1-bookcase.json and the solution that stands in it; skipped where it is not there.
"""

from __future__ import annotations

import json
from dataclasses import replace

from benchmarks.sheets.published import joinery_job
from storyrod.sheets import judge, lay_out
from tests.places import shared_data


def test_the_bookcase_comes_from_one_sheet() -> None:
    told = json.loads(shared_data("cutting", "job1-bookcase.json").read_text(encoding="utf-8"))
    parts, stock, rules = joinery_job(told)
    plan = lay_out(parts, stock, rules, rounds=300)

    assert judge(plan, parts, stock, replace(rules)) == ()
    assert plan.cents == round(told["reference"]["cost"] * 100)
    assert plan.boards[0].figures.settings <= told["reference"]["saw"]["settings_sheet_by_sheet"]
