"""What a quick hand does before the page's scripts have come is not lost: it is done once they are there."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.conftest import Served, Windows

pytestmark = pytest.mark.browser

MODULES = "**/static/js/*.js"


@contextmanager
def scripts_held(page: Page, address: str, which: str = MODULES) -> Iterator[None]:
    """Load an address whose scripts, but the one that waits for them, come only at the end of the block."""
    held: list[Route] = []
    holding = True

    def hold(route: Route) -> None:
        if not holding or route.request.url.endswith("/early.js"):
            route.continue_()
        else:
            held.append(route)

    page.route(which, hold)
    page.goto(address, wait_until="commit")
    expect(page.locator("#said")).to_be_attached()  # the last of a page: all of it is there
    yield
    holding = False
    assert held, "no script was asked for: nothing was tried"
    for route in held:
        route.continue_()
    page.wait_for_load_state()
    page.unroute(which)


def test_an_answer_of_a_new_job_is_looked_at(served: Served, windows: Windows) -> None:
    served.start()
    page = windows.open(served.address)
    width = page.get_by_role("textbox", name="Width")
    with scripts_held(page, f"{served.address}/new"):
        width.fill("1 m 2")
    expect(page.locator("#n-width-wrong")).to_contain_text('Found "1 m 2"')
    expect(width).to_have_value("1 m 2")
    assert windows.told == []


def test_an_opening_that_was_tapped_and_a_size_that_was_typed(served: Served, windows: Windows) -> None:
    name = served.take("hymn-book-unit")
    served.start()
    page = windows.open(served.address)
    width = page.locator("[data-field='cases[0].inside.columns[0].width']")
    with scripts_held(page, f"{served.address}/job/{name}/brief"):
        page.locator("#brief-figure .opening").first.click()
    expect(width).to_be_visible()

    with scripts_held(page, page.url):
        width.fill("423")
        width.press("Tab")
    expect(page.locator("#brief-figure .front")).to_contain_text("423 ×")
    job = tomllib.loads((served.jobs / f"{name}.toml").read_text(encoding="utf-8"))
    assert job["cases"][0]["inside"]["columns"][0]["width"] == 423
    assert windows.told == []


def test_a_figure_of_the_workshop_that_was_typed_and_one_that_is_still_being_typed(
    served: Served, windows: Windows
) -> None:
    served.take("first-box")
    served.start()
    page = windows.open(served.address)
    with scripts_held(page, f"{served.address}/workshop/cutters"):
        page.get_by_label("reach, drill 8").fill("70")
        page.get_by_label("reach, drill 8").press("Tab")
        page.get_by_label("reach, drill 5").fill("deep")
    expect(page.locator("tr", has=page.get_by_label("reach, drill 8"))).to_contain_text("changed by me")
    expect(page.locator("tr", has=page.get_by_label("reach, drill 5"))).to_contain_text("Found")
    workshop = tomllib.loads((served.jobs / "workshop.toml").read_text(encoding="utf-8"))
    assert workshop["cutters"]["drill 8"]["reach"] == 70


def test_what_the_script_sets_out_anew_holds_what_was_given(served: Served, windows: Windows) -> None:
    name = served.take("first-box")
    served.start()
    page = windows.open(served.address)
    with scripts_held(page, f"{served.address}/job/{name}/bench"):
        page.locator("#who").fill("Ida")
        page.locator("#who").press("Tab")
        page.locator("#left-hand").check()
    expect(page.locator("#who")).to_have_value("Ida")
    expect(page.locator("#left-hand")).to_be_checked()
    page.reload()
    expect(page.locator("#who")).to_have_value("Ida")
    expect(page.locator("#left-hand")).to_be_checked()


def test_a_field_that_was_only_gone_into_gets_what_is_remembered(served: Served, windows: Windows) -> None:
    name = served.take("first-box")
    served.start()
    page = windows.open(served.address)
    page.evaluate("localStorage.setItem('storyrod-who', JSON.stringify('Ida'))")
    with scripts_held(page, f"{served.address}/job/{name}/bench"):
        page.locator("#who").click()
    expect(page.locator("#who")).to_have_value("Ida")


def test_a_press_is_told_once_and_one_that_the_browser_acts_upon_not_again(served: Served, windows: Windows) -> None:
    served.start()
    page = windows.open(served.address)
    with scripts_held(page, f"{served.address}/new"):
        page.evaluate("""() => {
            window.pressed = [];
            const told = (event) => window.pressed.push(`${event.type} ${event.target.id || event.target.name}`);
            for (const kind of ["click", "input", "change"]) window.addEventListener(kind, told);
            document.querySelector("h1").id = "title";
        }""")
        page.locator("h1").click()
        page.get_by_label("a door, loose shelves behind it").check()
        before = page.evaluate("window.pressed")
    after = page.evaluate("window.pressed")
    assert before == ["click title", "click holds", "input holds", "change holds"]
    assert after[len(before) :] == ["click title", "input holds", "change holds"]
    expect(page.get_by_label("a door, loose shelves behind it")).to_be_checked()
    expect(page.locator("#many-what")).to_have_text("loose shelves")


def test_of_two_answers_the_last_one_holds(served: Served, windows: Windows) -> None:
    served.start()
    page = windows.open(served.address)
    door, shelves = page.get_by_label("a door, loose shelves behind it"), page.get_by_label("fixed shelves")
    with scripts_held(page, f"{served.address}/new"):
        door.check()
        shelves.check()
        door.check()
    expect(door).to_be_checked()
    expect(page.locator("#many-what")).to_have_text("loose shelves")


def test_a_tick_of_another_tablet_while_the_bench_is_loading(served: Served, windows: Windows) -> None:
    """The socket is open before the bench listens: what was told to nobody is asked for."""
    name = served.take("first-box")
    served.start()
    bench = f"{served.address}/job/{name}/bench"
    other = windows.open(bench)
    page = windows.open(served.address)
    with page.expect_websocket() as opening, scripts_held(page, bench, "**/static/js/bench.js"):
        socket = opening.value
        with socket.expect_event("framereceived"):
            other.locator(".bench-card:not([hidden]) .tick").first.click()
    expect(page.locator("#left-all")).to_have_text("1 of 46")
