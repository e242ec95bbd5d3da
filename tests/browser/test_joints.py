"""Joints in a real browser: figures before choosing, choosing and undoing, a joint drawn."""

from __future__ import annotations

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from tests.browser.conftest import Served, Windows

pytestmark = pytest.mark.browser


def clean(page: Page) -> list[str]:
    """Return what axe finds on a page, in words."""
    return [f"{v['id']}: {v['nodes'][0]['html'][:150]}" for v in Axe().run(page).response["violations"]]


def test_another_method_is_weighed_chosen_and_undone(served: Served, windows: Windows) -> None:
    job = served.take("first-box")
    served.start()
    page = windows.open(f"{served.address}/job/{job}/joints")
    page.get_by_role("link", name="Compare methods for corner and mid-panel joints").click()
    row = page.locator('tr[data-method="glued butt"]')
    expect(row).to_contain_text(re.compile(r"\d less|\d more"))
    expect(page.locator("#joints-options")).to_have_attribute("data-working", "no")
    before = served.jobs.joinpath(f"{job}.toml").read_text(encoding="utf-8")
    other = windows.open(f"{served.address}/job/{job}/joints?joint=A.J1")
    row.get_by_role("button", name="Choose").click()
    expect(page.locator(".class-table")).to_contain_text("glued butt joint")
    expect(page.locator('tr[data-method="glued butt"]')).to_contain_text("chosen")
    assert served.jobs.joinpath(f"{job}.toml").read_text(encoding="utf-8") != before
    expect(other.locator(".class-table")).to_contain_text("glued butt joint")
    expect(other.locator("#joint-section")).to_contain_text("glued butt joint")
    other.get_by_role("button", name="Undo").click()
    expect(page.locator(".class-table")).not_to_contain_text("glued butt joint")
    assert served.jobs.joinpath(f"{job}.toml").read_text(encoding="utf-8") == before
    assert windows.told == []


def test_a_joint_is_opened_by_key_drawn_and_clean_in_every_dress(served: Served, windows: Windows) -> None:
    job = served.take("first-box")
    served.start()
    page = windows.open(f"{served.address}/job/{job}/joints?of=corner")
    line = page.locator("a.joint-line").first
    line.focus()
    page.keyboard.press("Enter")
    expect(page.locator("#joint-section svg")).to_be_visible()
    expect(page.get_by_role("heading", name=re.compile("^J1: "))).to_be_focused()
    expect(page.locator("#joints-options")).to_have_attribute("data-working", "no")
    assert clean(page) == []
    page.go_back()
    expect(page.locator("#joint-section")).to_have_count(0)
    dark = windows.open(f"{served.address}/job/{job}/joints?of=corner&joint=A.J1", width=820, height=1180, dark=True)
    expect(dark.locator("#joints-options")).to_have_attribute("data-working", "no")
    assert clean(dark) == []
    assert dark.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert windows.told == []
