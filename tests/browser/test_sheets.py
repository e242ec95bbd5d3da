"""Sheets in a real browser: the cuts by key, a longer search watched, the rack."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Served, Windows
from tests.browser.test_joints import clean

pytestmark = pytest.mark.browser


def test_the_cuts_are_stepped_through_by_key(served: Served, windows: Windows) -> None:
    job = served.take("first-box")
    served.start()
    page = windows.open(f"{served.address}/job/{job}/sheets")
    head = page.locator("#sheet-head")
    expect(page.locator("#sheets-changes")).to_have_attribute("data-changing", "no")
    page.keyboard.press("ArrowRight")
    expect(head).to_contain_text("step 1")
    for _ in range(4):
        at = head.inner_text()
        page.keyboard.press("ArrowRight")
        expect(head).not_to_have_text(at)
    expect(page.locator(".figure-large")).to_have_text(re.compile(r"\d"))
    expect(page.locator(".pieces")).to_contain_text("in hand")
    assert page.locator("#sheets-one svg .line.datum").count() > 0
    later = head.inner_text()
    page.keyboard.press("ArrowLeft")
    expect(head).not_to_have_text(later)
    page.keyboard.press("Home")
    expect(page.get_by_role("link", name="Cut it step by step")).to_be_visible()
    page.get_by_label("written on it").focus()
    page.keyboard.press("ArrowRight")
    expect(page.get_by_role("link", name="Cut it step by step")).to_be_visible()
    assert clean(page) == []
    page.goto(f"{served.address}/job/{job}/sheets?step=5")
    assert clean(page) == []
    dark = windows.open(f"{served.address}/job/{job}/sheets?step=5", width=820, height=1180, dark=True)
    expect(dark.locator("#sheets-changes")).to_have_attribute("data-changing", "no")
    assert clean(dark) == []
    assert dark.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert windows.told == []


def test_a_longer_search_is_watched_and_stopped(served: Served, windows: Windows) -> None:
    job = served.take("first-box")
    served.start()
    page = windows.open(f"{served.address}/job/{job}/sheets")
    page.get_by_label("Seconds at most").fill("0")
    page.get_by_role("button", name="Search").click()
    expect(page.locator("#seconds-wrong")).to_contain_text("1 to 600")
    page.get_by_label("Seconds at most").fill("300")
    page.get_by_role("button", name="Search").click()
    bar = page.locator("#sheets-search progress")
    expect(bar).to_be_visible()
    first = float(bar.get_attribute("value") or 0)
    page.wait_for_function("v => Number(document.querySelector('#sheets-search progress')?.value) > v", arg=first)
    page.get_by_role("button", name=re.compile("^Stop")).click()
    expect(page.locator("#sheets-search")).to_contain_text(re.compile("Found|Nothing better"))
    assert windows.told == [
        "Failed to load resource: the server responded with a status of 422 (Unprocessable Content)"
    ] or (len(windows.told) == 1 and "422" in windows.told[0])


def test_a_piece_goes_on_the_rack_and_is_cut_up_first(served: Served, windows: Windows) -> None:
    job = served.take("first-box")
    served.start()
    page = windows.open(f"{served.address}/job/{job}/sheets")
    page.get_by_label("written on it").fill("K1")
    page.get_by_label("along the grain").fill("900")
    page.get_by_label("across").fill("620")
    page.get_by_role("button", name="Put it on the rack").click()
    expect(page.locator("#sheets-rack")).to_contain_text("cut up first")
    page.get_by_role("button", name="The sheets are cut").click()
    expect(page.locator("#sheets-rack")).to_contain_text("confirmed as cut")
    assert windows.told == []
