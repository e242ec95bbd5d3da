"""Assembly walked to its end: every step is told, what comes is brought home, the work is turned."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.browser.conftest import Served, Windows
from tests.browser.test_model_page import until, write_until_seen

pytestmark = pytest.mark.browser


PIECES = "(n) => new Set([...document.querySelectorAll('.model .piece')].map(p => p.dataset.panel)).size === n"


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One server for the module."""
    one = Served(home=tmp_path_factory.mktemp("assembly") / "home")
    for name in ("rehearsal-room", "first-box"):
        one.take(name)
    one.start()
    yield one
    one.kill()


def test_it_is_walked_to_the_end_by_keys(server: Served, windows: Windows) -> None:
    page = windows.open(f"{server.address}/job/rehearsal-room/assembly")
    expect(page.locator("#model")).to_be_visible()
    count = page.locator("#step-list li").count()
    told = []

    for n in range(1, count + 1):
        card = page.locator(".step-told:not([hidden])")
        expect(card).to_have_attribute("data-step", str(n))
        told.append(card.locator("h2").inner_text())
        assert card.locator(".to-do li").first.inner_text()
        page.keyboard.press("ArrowRight")

    assert len(set(told)) == count
    expect(page.locator("#step-next")).to_have_attribute("aria-disabled", "true")
    expect(page.locator("#step-move")).to_have_text("Pull it off again")  # the last one is home
    until(page, PIECES, 34)  # drawn in the next frame
    assert f"step={count}" in page.url
    page.keyboard.press("ArrowLeft")
    expect(page.locator(".step-told:not([hidden])")).to_have_attribute("data-step", str(count - 1))
    assert windows.told == []


def test_what_comes_is_brought_home_and_a_turn_is_shown(server: Served, windows: Windows) -> None:
    page = windows.open(f"{server.address}/job/rehearsal-room/assembly?step=6", width=820, height=1180)
    until(page, "() => document.querySelectorAll('.model .arrow').length === 1")
    top = "() => document.querySelector('.model .piece.moves').getBoundingClientRect().top"
    apart = page.evaluate(top)

    page.get_by_role("button", name="Bring it home").click()
    expect(page.locator("#step-move")).to_have_text("Pull it off again")
    until(page, "() => document.querySelectorAll('.model .arrow').length === 0")
    home = page.evaluate(top)
    page.get_by_role("link", name="Next step").click()

    assert home > apart  # lowered
    card = page.locator(".step-told:not([hidden])")
    expect(card.locator("h2")).to_contain_text("Turn the work")
    expect(card.locator(".caution")).to_contain_text("Turning the work")
    expect(page.locator("#model-said")).to_contain_text("right side")
    expect(page.locator("#step-move")).to_be_hidden()
    page.locator("#step-list a").nth(8).click()
    expect(page.locator(".step-told:not([hidden])")).to_have_attribute("data-step", "9")
    assert windows.told == []


def test_a_change_elsewhere_keeps_the_step(server: Served, windows: Windows) -> None:
    page = windows.open(f"{server.address}/job/first-box/assembly")
    expect(page.locator("#model")).to_be_visible()
    page.get_by_role("link", name="Next step").click()
    expect(page.locator(".step-told:not([hidden])")).to_have_attribute("data-step", "2")

    path = server.jobs / "first-box.toml"
    page.evaluate("document.getElementById('step-list').dataset.old = '1'")
    changed = "() => !document.getElementById('step-list').dataset.old"
    write_until_seen(page, path, ("height = 300", "height = 4"), changed)

    expect(page.locator(".step-told:not([hidden])")).to_have_attribute("data-step", "2")
    expect(page.locator("#model")).to_be_visible()
    assert windows.told == []


@pytest.mark.parametrize(("width", "dark"), [(1280, False), (820, True)])
def test_axe_finds_nothing(server: Served, windows: Windows, width: int, dark: bool) -> None:
    page = windows.open(f"{server.address}/job/rehearsal-room/assembly?step=4", width=width, dark=dark)
    expect(page.locator("#model")).to_be_visible()

    found = Axe().run(page, context={"exclude": [["#model-stage svg"]]})

    assert found.violations_count == 0, found.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth") <= width
