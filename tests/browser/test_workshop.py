"""The workshop in a real browser: a figure changed, one that is wrong, undone; a connector measured and chosen."""

from __future__ import annotations

import tomllib

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Served, Windows

pytestmark = pytest.mark.browser


def test_a_figure_is_changed_told_wrong_mended_and_undone(served: Served, windows: Windows) -> None:
    served.take("first-box")
    served.start()
    page = windows.open(f"{served.address}/workshop/cutters", width=820, height=1180)
    reach = page.get_by_label("reach, drill 8")
    row = page.locator("tr", has=reach)

    reach.fill("70")
    reach.press("Tab")
    expect(row).to_contain_text("changed by me")
    expect(page.locator("#ws-head")).to_contain_text("Kept in workshop.toml")
    version = page.locator("#ws-head").get_attribute("data-version")
    reach.fill("deep")
    expect(row).to_contain_text("Found")
    expect(reach).to_have_attribute("aria-invalid", "true")
    reach.press("Tab")
    reach.fill('2 5/8"')
    expect(row).to_contain_text("= 66.68 mm")
    reach.press("Tab")
    workshop = served.jobs / "workshop.toml"
    expect(page.locator("#ws-head")).not_to_have_attribute("data-version", version or "")
    cutters = tomllib.loads(workshop.read_text(encoding="utf-8"))["cutters"]
    assert cutters["drill 8"]["reach"] == '2 5/8"'
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_label("reach, drill 8")).to_have_value("70")
    page.goto(f"{served.address}/workshop/saw")
    kerf = page.get_by_label("kerf")
    kerf.fill("2,2")
    kerf.press("Tab")
    page.get_by_role("button", name="Put back kerf").click()
    expect(kerf).to_have_value("3")
    workshop.write_text("# started anew\n", encoding="utf-8")
    page.evaluate("window.dispatchEvent(new Event('focus'))")
    expect(page.locator("#said")).to_contain_text("changed somewhere else")
    assert [w for w in windows.told if "422" not in w] == []  # the browser itself tells of the refused figure


def test_a_connector_is_measured_with_the_keyboard_and_chosen(served: Served, windows: Windows) -> None:
    served.take("first-box")
    served.start()
    page = windows.open(f"{served.address}/workshop/measure")
    page.get_by_role("button", name="A dowel or peg").press("Enter")
    page.get_by_label("what you call it").fill("beech peg")
    depth = page.get_by_label("depth of the hole")
    depth.fill("16")
    expect(page.locator("#look")).to_contain_text("of board is left")
    depth.fill("12")
    expect(page.locator("#look")).to_contain_text("12 deep in a board of 18 leaves 6 under it")
    depth.press("Enter")
    page.get_by_label("depth of the hole").fill("25")
    page.get_by_label("depth of the hole").press("Enter")
    page.get_by_label("at most this far apart").fill("128")
    expect(page.locator("#look")).to_contain_text("560")
    page.get_by_label("at most this far apart").press("Enter")
    page.get_by_role("button", name="Next").press("Enter")
    page.get_by_label("price of a pack").fill("6,20")
    page.get_by_label("price of a pack").press("Enter")
    expect(page.locator(".answered")).to_contain_text("128")
    expect(page.locator("main")).not_to_contain_text("pitch =")
    page.get_by_role("button", name="Keep it").press("Enter")

    expect(page.get_by_role("status").filter(has_text="beech peg is kept")).to_be_visible()
    expect(page.get_by_role("heading", name="beech peg")).to_be_visible()
    page.get_by_role("link", name="Which jobs use it", exact=True).click()
    page.get_by_role("button", name="Let it use workshop.toml").click()
    expect(page.get_by_text("uses it", exact=True)).to_be_visible()
    page.goto(f"{served.address}/job/first-box/joints")
    page.get_by_role("link", name="Compare methods for corner joints").or_(
        page.get_by_role("button", name="Compare methods for corner joints")
    ).first.click()
    expect(page.locator("main")).to_contain_text("beech peg")
    assert windows.told == []
