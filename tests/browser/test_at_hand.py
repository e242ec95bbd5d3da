"""What is at hand on every job, in each browser: notes and photos, help, ticks of the buying list, glue choices.

Chromium walks it always; Firefox as well where it is asked for.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Served, Windows
from tests.browser.test_joints import clean

pytestmark = pytest.mark.browser

PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010802000000907753de0000000c4944415408d763f8cfc0000003010100"
    "18dd8db00000000049454e44ae426082"
)
"""One red dot."""


@pytest.fixture(params=["chromium", "firefox"])
def panes(request: pytest.FixtureRequest) -> Iterator[Windows]:
    """Windows of each browser that is here."""
    opened = Windows(engine=request.getfixturevalue(f"{request.param}_engine"))
    yield opened
    for context in opened.contexts:
        context.close()


def test_notes_ticks_and_help_are_at_hand(served: Served, panes: Windows, tmp_path: Path) -> None:
    job = served.take("first-box")
    served.start()
    photo = tmp_path / "dot.png"
    photo.write_bytes(PNG)
    page = panes.open(f"{served.address}/job/{job}/overview")
    page.get_by_label("Note", exact=True).fill("Collect on Friday")
    page.get_by_label("Photo", exact=True).set_input_files(photo)
    page.get_by_role("button", name="Keep the note").click()
    expect(page.locator(".note-text")).to_have_text("Collect on Friday")
    expect(page.locator(".note img")).to_have_js_property("naturalWidth", 1)
    expect(page.get_by_label("Note", exact=True)).to_have_value("")
    page.locator("input[data-buy]").first.check()
    expect(page.locator("input[data-buy]").first).to_be_checked()

    other = panes.open(f"{served.address}/job/{job}/bench", width=820, height=1180, dark=True)
    expect(other.locator(".bench-notes .note-text")).to_have_text("Collect on Friday")
    other.get_by_label("About", exact=True).select_option("card S1")
    other.get_by_label("Note", exact=True).fill("Blade is blunt")
    other.get_by_role("button", name="Keep the note").click()
    expect(other.locator("#card-S1 .note-text")).to_have_text("Blade is blunt")
    other.goto(f"{served.address}/job/{job}/overview")
    expect(other.locator("input[data-buy]").first).to_be_checked()
    expect(other.locator(".note-text")).to_have_text(["Collect on Friday", "Blade is blunt"])
    assert clean(other) == []

    other.keyboard.press("?")
    expect(other.locator("dialog.help")).to_be_visible()
    other.get_by_label("Find a word", exact=True).fill("datum end")
    expect(other.locator("dialog.help dt:visible").first).to_contain_text("datum")
    expect(other.locator("dialog.help dt:visible", has_text="plinth")).to_have_count(0)
    assert clean(other) == []
    other.keyboard.press("Escape")
    expect(other.locator("dialog.help")).to_be_hidden()
    assert panes.told == []


def test_a_choice_for_the_glue_ends_its_caution_at_the_step(served: Served, panes: Windows) -> None:
    job = served.take("first-box")
    served.start()
    page = panes.open(f"{served.address}/job/{job}/assembly", width=820, height=1180)
    step = page.locator("#told-1")
    expect(step).to_contain_text("This glue-up takes about 12 min")
    assert clean(page) == []
    step.get_by_role("button", name="Use a glue that stays open 12 min").click()
    expect(page.locator("#told-1")).to_be_visible()
    expect(page.locator("#told-1")).not_to_contain_text("This glue-up takes")
    assert "open_time_min = 12" in (served.jobs / "workshop.toml").read_text(encoding="utf-8")
    assert panes.told == []
