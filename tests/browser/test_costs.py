"""Costs in a real browser: the comparison fills, what-ifs keep the place, learned times are taken in."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from storyrod.adapters.log import open_log
from tests.browser.conftest import Served, Windows
from tests.browser.test_joints import clean

pytestmark = pytest.mark.browser


def test_the_comparison_fills_and_what_ifs_change_it(served: Served, windows: Windows) -> None:
    job = served.take("first-box")
    served.start()
    page = windows.open(f"{served.address}/job/{job}/costs")
    compare = page.locator("#costs-compare")
    expect(compare).to_have_attribute("data-working", "no")
    expect(compare.locator("tbody tr").first).to_be_visible()
    cost = page.locator(".sums dd").first
    before = cost.inner_text()
    page.get_by_text("Minutes by act").click()
    page.get_by_label("an hour of work costs").fill("60")
    page.get_by_role("button", name="Recalculate").click()
    expect(cost).not_to_have_text(before)
    expect(page.locator("#costs details").first).to_have_attribute("open", "")
    page.get_by_label("an hour of work costs").fill("much")
    page.get_by_role("button", name="Recalculate").click()
    expect(page.locator("#rate-wrong")).to_contain_text("allowed: 0 to 10,000")
    assert clean(page) == []
    dark = windows.open(f"{served.address}/job/{job}/costs", width=820, height=1180, dark=True)
    expect(dark.locator("#costs-compare")).to_have_attribute("data-working", "no")
    assert clean(dark) == []
    assert dark.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert windows.told == []


def test_a_learned_time_is_taken_into_the_workshop_file(served: Served, windows: Windows) -> None:
    job = served.take("hymn-book-unit")
    with open_log(served.home / "bench-log.sqlite") as log:
        for each in (0.6, 0.62, 0.61):
            log.add_span("Two-bay hymn-book unit", "rout a keyhole", each * 10, count=10)
    served.start()
    page = windows.open(f"{served.address}/job/{job}/costs")
    row = page.locator('tr[data-act="rout a keyhole"]')
    row.get_by_role("button", name=re.compile("Use in the workshop")).click()
    expect(row).to_have_count(0)
    expect(page.locator("#taken-acts")).to_contain_text("rout a keyhole")
    text = (served.jobs / "choir-workshop.toml").read_text(encoding="utf-8")
    assert re.search(r'"rout a keyhole" = \{ ?low = [\d.]+, usual = 0\.5\d', text)
    assert windows.told == []
