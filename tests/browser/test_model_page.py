"""The case in the round: turned by keys, pulled apart, tapped, followed to a set-out; quiet for axe in both themes."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from tests.browser.conftest import Served, Windows, place_of

pytestmark = pytest.mark.browser


def until(page: Page, asked: str, arg: object = None) -> None:
    """Wait until the page says yes; asked from here, since its own rules let no text be run in it."""
    end = time.monotonic() + 300
    while not page.evaluate(asked, arg):
        assert time.monotonic() < end, asked
        page.wait_for_timeout(25)


FACES = """() => [...document.querySelectorAll('.model .face:not([display])')]
  .map(f => f.getAttribute('transform')).sort().join()"""


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One server for the module, with two jobs that tests leave as they are and one that they change."""
    one = Served(home=tmp_path_factory.mktemp("model") / "home")
    for name in ("rehearsal-room", "hymn-book-unit", "first-box"):
        one.take(name)
    one.start()
    yield one
    one.kill()


def write_until_seen(page: Page, path: Path, line: tuple[str, str], asked: str, arg: object = None) -> None:
    """Change a line of a file by hand, until the page shows it: it looks at the disk about once a second."""
    text = path.read_text(encoding="utf-8")
    for n in range(6):
        path.write_text(text.replace(line[0], f"{line[1]}{n}{n}", 1), encoding="utf-8")
        end = time.monotonic() + 30  # then written again: the clock of a file may have been too coarse
        while time.monotonic() < end:
            if page.evaluate(asked, arg):
                return
            page.wait_for_timeout(50)
    raise AssertionError(asked)


def shown(page: Page) -> None:
    """Wait until the model stands still, and stays so: it is drawn anew where its room changes while the page loads."""
    times = "Number(document.getElementById('model-stage').dataset.still || 0)"
    until(page, f"() => {times} > 0")
    before = 0
    while (now := page.evaluate(times)) != before:
        before = now
        page.wait_for_timeout(300)


@contextmanager
def moved(page: Page) -> Iterator[None]:
    """Wait, after what is done inside, until the model stands still anew."""
    before = int(page.locator("#model-stage").get_attribute("data-still") or 0)
    yield
    until(page, "n => Number(document.getElementById('model-stage').dataset.still) > n", before)


def test_the_model_is_turned_by_keys_and_buttons(server: Served, windows: Windows) -> None:
    page = windows.open(f"{server.address}/job/rehearsal-room/panels")
    shown(page)
    first = page.evaluate(FACES)
    page.locator("#model-stage").focus()

    with moved(page):
        page.keyboard.press("ArrowLeft")
    turned = page.evaluate(FACES)
    with moved(page):
        page.keyboard.press("ArrowRight")
    back = page.evaluate(FACES)
    with moved(page):
        page.get_by_role("button", name="behind").click()

    assert turned != first
    assert back == first
    assert page.locator(".model .panel-mark", has_text="A6").count() == 1  # the back is seen from behind
    assert page.locator(".model .panel-mark", has_text="A8").count() == 0  # and no drawer front
    assert page.locator("#model-drawn").is_hidden()
    assert windows.told == []


def test_it_is_pulled_apart_and_looked_into(server: Served, windows: Windows) -> None:
    page = windows.open(f"{server.address}/job/rehearsal-room/panels")
    shown(page)
    together = page.locator(".model .panel-mark").count()

    page.get_by_label("Pull apart").focus()
    with moved(page):
        page.keyboard.press("End")
    apart = page.locator(".model .panel-mark").count()
    with moved(page):
        page.get_by_role("button", name="Fronts off").click()

    assert apart > together
    assert page.locator(".model .piece[data-panel='A.door-1']").count() == 0
    page.get_by_role("button", name="See through the sides").click()
    expect(page.locator(".model .piece[data-panel='A.side-left']").first).to_have_class("piece through")
    assert windows.told == []


def test_a_panel_is_tapped_and_followed_to_its_set_out(server: Served, windows: Windows) -> None:
    page = windows.open(f"{server.address}/job/rehearsal-room/panels", width=820, height=1180, touch=True)
    shown(page)

    door = place_of(page.locator(".model .panel-mark", has_text="A32"))
    page.touchscreen.tap(door["x"] + door["width"] / 2, door["y"] + door["height"] / 2 + 30)
    expect(page.locator("#panel-card h2")).to_have_text("A32 door 1")
    expect(page.locator("#cutting-table tr.chosen")).to_contain_text("door 1")
    page.get_by_role("button", name="A2 right side").tap()
    expect(page.locator("#panel-card h2")).to_have_text("A2 right side")
    page.get_by_role("link", name="Go to its set-out").tap()

    expect(page.locator(".panel-head")).to_have_text("A2 right side")
    assert windows.told == []


def test_tab_names_each_panel_and_lights_a_joint(server: Served, windows: Windows) -> None:
    page = windows.open(f"{server.address}/job/hymn-book-unit/panels")
    shown(page)

    page.locator("#panel-list button").nth(1).focus()
    expect(page.locator("#model-said")).to_contain_text("right side")
    expect(page.locator(".model .above .lit")).to_have_count(1)
    joint = page.locator("#joint-list button").first
    joint.focus()
    page.keyboard.press("Enter")

    expect(joint).to_have_attribute("aria-pressed", "true")
    expect(page.locator(".model .above .contact")).to_have_count(1)
    assert page.locator(".model .piece.chosen").count() >= 2
    assert windows.told == []


def test_a_change_elsewhere_is_shown_and_the_place_is_kept(server: Served, windows: Windows) -> None:
    page = windows.open(f"{server.address}/job/first-box/panels")
    shown(page)
    page.locator("#panel-list button").nth(2).click()
    chosen = page.locator("#panel-card h2").inner_text()
    with moved(page):
        page.get_by_role("button", name="the left").click()
    before = page.locator("#cutting-table").inner_text()

    path = server.jobs / "first-box.toml"
    text = path.read_text(encoding="utf-8")
    changed = "old => document.getElementById('cutting-table').innerText !== old"
    write_until_seen(page, path, ("width = 400", "width = 5"), changed, before)

    expect(page.locator("#panel-card h2")).to_have_text(chosen)
    expect(page.locator(".model .panel-mark").first).to_be_visible()
    path.write_text(text.replace("width = 400", "width = 3", 1), encoding="utf-8")
    expect(page.locator("#faults")).to_contain_text("width")
    path.write_text(text, encoding="utf-8")
    expect(page.locator("#cutting-table")).to_be_visible()
    assert windows.told == []


@pytest.mark.parametrize(("width", "dark"), [(1280, False), (820, True)])
def test_axe_finds_nothing(server: Served, windows: Windows, width: int, dark: bool) -> None:
    page = windows.open(f"{server.address}/job/rehearsal-room/panels", width=width, dark=dark)
    shown(page)
    page.locator("#panel-list button").nth(6).click()

    found = Axe().run(page, context={"exclude": [["#model-stage svg"]]})  # a picture, hidden from readers

    assert found.violations_count == 0, found.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth") <= width
