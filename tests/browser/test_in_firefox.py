"""A short walk in Firefox, where one is installed: a job is begun, a mark is ticked and kept, axe finds nothing."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import Engine, Served, Windows
from tests.browser.test_joints import clean

pytestmark = pytest.mark.browser


def test_a_job_is_begun_and_ticked_in_firefox(served: Served, firefox: Browser) -> None:
    served.jobs.mkdir(parents=True)
    served.start()
    panes = Windows(engine=Engine(light=firefox, dark=firefox))
    page = panes.open(f"{served.address}/new", width=820, height=1180)
    page.get_by_role("textbox", name="Width").fill("900")
    page.get_by_role("button", name="Make the job").click()
    page.wait_for_url("**/brief")
    expect(page.locator("#brief-figure svg.drawing").first).to_be_visible()
    assert clean(page) == []
    page.locator(".rod").get_by_role("link", name="Bench").click()
    page.wait_for_url("**/bench*")
    mark = page.locator(".tick:visible").first
    mark.click()
    expect(mark).to_have_attribute("aria-pressed", "true")
    expect(page.locator(".sending")).to_contain_text("All ticks are kept")
    page.get_by_role("button", name="Dark mode").click()
    assert clean(page) == []
    page.reload()
    expect(page.locator("html")).to_have_attribute("data-theme", "slate")
    expect(page.locator(".tick:visible").first).to_have_attribute("aria-pressed", "true")
    expect(page.locator(".tick[aria-pressed=true]")).to_have_count(1)
    assert panes.told == []
    panes.contexts[0].close()
