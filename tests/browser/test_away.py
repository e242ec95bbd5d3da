"""Changes made while the server is away wait in sight and are sent once, or are dropped and never sent."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Served, Windows
from tests.browser.test_model_page import until

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def case_of(path: Path) -> dict[str, Any]:
    case: dict[str, Any] = tomllib.loads(path.read_text(encoding="utf-8"))["cases"][0]
    return case


def typed(page: Page, path: str, value: str) -> None:
    field = page.locator(f'[data-field="{path}"]')
    field.fill(value)
    field.press("Enter")


@pytest.fixture
def away(served: Served, windows: Windows) -> tuple[Page, Path]:
    """A page whose server has just been killed, with two changes typed since."""
    name = served.take("first-box")
    served.start()
    page = windows.open(f"{served.address}/job/{name}/brief")
    expect(page.locator("#brief-figure .parting").first).to_be_attached()
    page.evaluate("document.querySelectorAll('details').forEach((group) => { group.open = true; })")
    served.kill()
    typed(page, "cases[0].width", "655")
    expect(page.locator("#waiting")).to_contain_text("Your change waits here")
    typed(page, "cases[0].height", "811")
    expect(page.locator("#waiting")).to_contain_text("Your 2 changes wait here")
    return page, served.jobs / f"{name}.toml"


def test_they_are_sent_in_turn_once_the_server_is_back(away: tuple[Page, Path], served: Served) -> None:
    page, path = away
    before = case_of(path)

    served.start()
    page.get_by_role("button", name="Try now").click()

    expect(page.locator("#waiting")).to_have_count(0)
    expect(page.locator("#brief-figure .front")).to_contain_text("811")
    assert (before["width"], before["height"]) != (655, 811)
    assert (case_of(path)["width"], case_of(path)["height"]) == (655, 811)
    page.locator("[data-step='-1']").first.click()
    expect(page.locator("#brief-figure .front")).not_to_contain_text("811")
    assert case_of(path)["width"] == 655, "each was made once"


def test_dropped_they_are_never_sent(away: tuple[Page, Path], served: Served) -> None:
    page, path = away
    before = path.read_text(encoding="utf-8")

    page.get_by_role("button", name="Drop them").click()
    expect(page.locator("#waiting")).to_have_count(0)
    expect(page.locator('[data-field="cases[0].width"]')).not_to_have_value("655")
    expect(page.locator('[data-field="cases[0].height"]')).not_to_have_value("811")
    served.start()
    page.locator('[data-field="cases[0].width"]').focus()
    page.keyboard.press("Tab")
    typed(page, "cases[0].depth", "377")
    expect(page.locator("#brief-figure .parting").first).to_be_attached()
    expect(page.locator("[data-step='-1']").first).to_be_enabled()

    after = case_of(path)
    was = tomllib.loads(before)["cases"][0]
    assert (after["width"], after["height"], after["depth"]) == (was["width"], was["height"], 377)


def test_a_reload_keeps_them(away: tuple[Page, Path], served: Served) -> None:
    page, path = away

    served.start()
    page.on("dialog", lambda dialog: dialog.accept())
    page.reload()

    expect(page.locator("#brief-figure .front")).to_contain_text("811")
    assert (case_of(path)["width"], case_of(path)["height"]) == (655, 811)
    until(page, "localStorage.getItem('storyrod-waiting:first-box') === null")


def test_another_was_quicker_meanwhile(away: tuple[Page, Path], served: Served) -> None:
    """What waited is offered again on top of the other's change, all of it."""
    page, path = away
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace(f"depth = {case_of(path)['depth']}", "depth = 366"), encoding="utf-8")

    served.start()
    page.get_by_role("button", name="Try now").click()
    expect(page.locator("#stale")).to_contain_text("655")
    expect(page.locator("#stale")).to_contain_text("811")
    page.get_by_role("button", name="Make my change on top of it").click()

    expect(page.locator("#brief-figure .front")).to_contain_text("811")
    after = case_of(path)
    assert (after["width"], after["height"], after["depth"]) == (655, 811, 366)


def test_a_figure_of_the_workshop_waits_beside_its_field(served: Served, windows: Windows) -> None:
    served.take("first-box")
    served.start()
    page = windows.open(f"{served.address}/workshop/cutters", width=820, height=1180)
    reach = page.get_by_label("reach, drill 8")
    served.kill()
    reach.fill("70")
    reach.press("Tab")
    expect(page.locator("tr", has=reach)).to_contain_text("waits here")

    served.start()

    expect(page.locator("#ws-head")).to_contain_text("Kept in workshop.toml")
    kept = tomllib.loads((served.jobs / "workshop.toml").read_text(encoding="utf-8"))
    assert kept["cutters"]["drill 8"]["reach"] == 70
    expect(page.locator("tr", has=reach)).not_to_contain_text("waits here")
