"""A whole number that is no length has a comma between thousands, everywhere a maker reads it."""

from __future__ import annotations

import re

from storyrod.model.work import Minutes
from storyrod.telling.set_ups import setting_facts
from tests.kept import example_plan
from tests.places import ROOT

PACKAGE = ROOT / "src" / "storyrod"
_PLAIN = re.compile(r"\{[^{}]*(?::\.0f|_rpm)\} (?:N\b|min\b|minutes|turns|a minute)")


def test_the_speed_of_a_cutter_reads_the_same_in_the_table_and_in_the_caution() -> None:
    plan = example_plan("rehearsal-room")
    routed = next(s for s in plan.machining.set_ups if s.setting and s.setting.speed_rpm)
    assert routed.setting is not None
    speed = f"{routed.setting.speed_rpm or 0:,}"

    assert "," in speed
    assert ["speed", f"not above {speed} a minute"] in setting_facts(routed.setting, plan.machining, plan.job.lengths)
    assert any(f"not above {speed} turns" in str(line) for line in routed.cautions)


def test_minutes_have_a_comma_between_thousands() -> None:
    assert str(Minutes(low=987.6, usual=1234.4, high=12345.0)) == "1,234 min (988 to 12,345)"


def test_no_sentence_of_the_code_writes_a_count_without_its_comma() -> None:
    plain = [
        f"{path.name}: {found[0]}"
        for path in sorted(PACKAGE.rglob("*.py"))
        for found in _PLAIN.finditer(path.read_text(encoding="utf-8"))
    ]
    assert not plain
    assert not [p.name for p in sorted(PACKAGE.rglob("*.html")) if '"%.0f"' in p.read_text(encoding="utf-8")]
