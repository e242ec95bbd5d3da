"""From an empty list of jobs to a two-drawer unit, as one who has read nothing would go."""

from __future__ import annotations

import re
import tomllib

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.browser.conftest import Served, Windows

pytestmark = pytest.mark.browser


def test_from_an_empty_list_to_a_two_drawer_unit(served: Served, windows: Windows) -> None:
    served.jobs.mkdir(parents=True)
    served.start()
    page = windows.open(served.address)
    expect(page.locator("main")).to_contain_text("There are no jobs yet")
    page.get_by_role("link", name="New job").click()
    page.get_by_label("drawers, one below the other").check()
    page.get_by_role("textbox", name="Width").fill("1 m 2")
    expect(page.locator("#n-width-wrong")).to_contain_text('Found "1 m 2"')
    page.get_by_role("textbox", name="Width").fill('23 5/8"')
    expect(page.locator("#n-width-wrong")).to_be_hidden()
    expect(page.locator("#new-picture")).to_contain_text("600.1")
    page.get_by_role("textbox", name="Title").fill("Lectern <b>drawers</b>")
    page.get_by_role("button", name="Make the job").click()

    expect(page.locator("#job-title")).to_have_text("Lectern <b>drawers</b>")
    page.wait_for_load_state()
    path = served.jobs / "lectern-b-drawers-b.toml"
    page.locator(".opening").first.click()
    height = page.locator("[data-field='cases[0].inside.rows[0].height']")
    height.fill("800")
    height.press("Enter")
    expect(page.locator("#faults h2")).to_contain_text("1 fault")
    expect(page.locator("#brief-figure")).to_contain_text("from before the fault")
    height.fill("180")
    height.press("Enter")
    expect(page.locator("#faults")).to_be_hidden()
    expect(page.locator("#brief-figure .front")).to_contain_text("× 180")
    page.get_by_role("button", name="Undo").click()
    page.get_by_role("button", name="Undo").click()
    expect(height).to_have_value("")
    page.get_by_role("button", name="Redo").click()
    page.get_by_role("button", name="Redo").click()
    expect(height).to_have_value("180")
    job = tomllib.loads(path.read_text(encoding="utf-8"))
    assert [r["holds"] for r in job["cases"][0]["inside"]["rows"]] == ["drawer", "drawer"]
    assert windows.told == []

    page.get_by_role("link", name="Jobs", exact=True).click()
    card = page.locator(".job-card")
    expect(card).to_contain_text(re.compile("can be built|not checked yet"))
    card.get_by_text("Copy").first.click()
    card.get_by_role("button", name="Make the copy").click()
    expect(page.locator("#job-title")).to_have_text("Lectern <b>drawers</b> (copy)")
    page.get_by_role("link", name="Jobs", exact=True).click()
    page.get_by_label("Find").fill("copy lectern")
    expect(page.locator(".job-card:visible")).to_have_count(1)
    page.get_by_label("Find").fill("")
    copied = page.locator(".job-card", has_text="(copy)")
    copied.get_by_text("Rename").first.click()
    copied.get_by_label("New title").fill("Robe drawers")
    copied.get_by_role("button", name="Rename it").click()
    page.locator(".job-card", has_text="Robe drawers").get_by_role("button", name="Delete").click()
    expect(page.locator(".job-card")).to_have_count(1)
    page.get_by_role("button", name="Bring it back").click()
    expect(page.locator(".job-card", has_text="Robe drawers")).to_have_count(1)
    assert windows.told == []

    (served.jobs / "robe-drawers.toml").write_text("title = \n", encoding="utf-8")
    page.reload()
    expect(page.locator(".job-card", has_text="robe-drawers")).to_contain_text("unreadable")
    for width, dark in ((1280, False), (820, True)):
        page.set_viewport_size({"width": width, "height": 1000})
        page.emulate_media(color_scheme="dark" if dark else "light")
        for at in ("/", "/new"):
            page.goto(served.address + at)
            told = Axe().run(page).response["violations"]
            assert [(v["id"], [n["html"][:120] for n in v["nodes"]][:3]) for v in told] == []


def test_answers_of_a_new_job_are_there_when_one_comes_back(served: Served, windows: Windows) -> None:
    served.start()
    page = windows.open(f"{served.address}/new")
    asked: list[str] = []
    page.on("request", lambda r: asked.append(r.url) if r.url.endswith("/new/preview") else None)
    page.get_by_label("fixed shelves").check()
    page.get_by_role("textbox", name="Width").fill("900")
    expect(page.locator("#new-picture")).to_contain_text("900")
    page.get_by_role("link", name="Jobs", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Jobs")
    before = len(asked)
    page.go_back()

    expect(page.get_by_label("fixed shelves")).to_be_checked()
    expect(page.get_by_role("textbox", name="Width")).to_have_value("900")
    expect(page.locator("#many-what")).to_have_text("shelves")
    expect(page.locator("#new-picture")).to_contain_text("900")
    assert len(asked) > before
    page.goto(f"{served.address}/new")
    page.wait_for_load_state("networkidle")
    assert len(asked) == before + 1, "the page came with its picture"
