"""A job made anew by hand under an old name, in a browser that knows the ticks of the one before."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from storyrod.adapters.web._absences import GONE_S
from tests.browser.conftest import Served, Windows

pytestmark = pytest.mark.browser


def tick(page: Page, number: int) -> None:
    page.locator(".bench-card:not([hidden]) .tick").nth(number).click()
    expect(page.locator("#sending")).to_have_text("All ticks are kept.")


def test_starting_afresh_leaves_no_tick_in_any_browser(served: Served, windows: Windows) -> None:
    job = served.take("first-box")
    path = served.jobs / f"{job}.toml"
    served.start()
    old = windows.open(f"{served.address}/job/{job}/bench")
    tick(old, 0)
    tick(old, 1)
    expect(old.locator("#left-all")).to_have_text("2 of 46")
    text = path.read_text(encoding="utf-8")
    path.unlink()
    old.wait_for_timeout(1000 * (GONE_S + 3))  # the page must see that it stays away
    path.write_text(text + "# made anew\n", encoding="utf-8")

    new = windows.open(f"{served.address}/job/{job}/bench")
    question = new.locator(".remade")
    for _ in range(20):
        if question.count():
            break
        new.wait_for_timeout(500)
        new.reload()
    expect(question).to_contain_text("Is this the job that was ticked at the bench?")
    assert Axe().run(new).response["violations"] == []
    new.get_by_role("button", name="It is a new job: start fresh").click()
    new.wait_for_url("**/brief")  # the answer, before the page is left
    expect(question).to_have_count(0)
    new.goto(f"{served.address}/job/{job}/bench")
    expect(new.locator("#left-all")).to_have_text("0 of 46")
    tick(new, 3)
    expect(new.locator("#left-all")).to_have_text("1 of 46")
    expect(old.locator("#left-all")).to_have_text("1 of 46")
    old.reload()
    expect(old.locator("#left-all")).to_have_text("1 of 46")
    assert [t for t in windows.told if "404" not in t and "WebSocket" not in t] == []
