"""Set-out in a real browser: a mark is tapped and its mate lit; words keep their size and never meet."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.browser.conftest import Served, Windows, place_of
from tests.browser.test_drawings_in_a_browser import MEASURE, _meet
from tests.browser.test_model_page import until, write_until_seen

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One server for the module."""
    one = Served(home=tmp_path_factory.mktemp("set-out") / "home")
    for name in ("rehearsal-room", "music-stand-shelf-inches", "first-box"):
        one.take(name)
    one.start()
    yield one
    one.kill()


def test_a_mark_is_tapped_and_its_mate_is_lit(server: Served, windows: Windows) -> None:
    page = windows.open(f"{server.address}/job/rehearsal-room/set-out?panel=A1", width=820, height=1180, touch=True)
    expect(page.locator("#set-out-drawn[data-shown]")).to_be_visible()  # drawn anew for this width
    mark = page.locator("#set-out-drawn g.mark[data-id='A.side-left:J2.2r']").first
    mark.scroll_into_view_if_needed()
    box = place_of(mark)

    page.touchscreen.tap(box["x"] + box["width"] / 2 + 5, box["y"] + box["height"] / 2 - 4)  # a finger is not exact

    expect(page.locator(".mark-name")).to_have_text("A1.3: hole Ø8, 13 deep")
    expect(page.locator("#set-out-drawn .ring")).to_have_count(1)
    expect(page.locator("#mate-drawn g.mark.lit")).to_have_count(1)
    expect(page.locator("#mark-told")).to_contain_text("Its mate: A4.18, on base")
    expect(page.locator("#mark-told")).to_contain_text("dowels of base in left side")
    assert "mark=A1.3" in page.url
    assert page.locator("#mark-told a[href*='/set-ups?set-up=S']").count() >= 1
    page.get_by_role("link", name="To the mate’s set-out").tap()
    expect(page.locator(".panel-head")).to_have_text("A4 base")
    expect(page.locator(".mark-name")).to_contain_text("A4.18")
    expect(page.locator("#set-out-drawn .ring").first).to_be_visible()
    assert windows.told == []


def test_marks_are_walked_by_keys_alone(server: Served, windows: Windows) -> None:
    page = windows.open(f"{server.address}/job/rehearsal-room/set-out?panel=A4")
    page.locator("#marks-table th a").first.focus()

    page.keyboard.press("Enter")
    expect(page.locator(".mark-name")).to_contain_text("A4.1:")
    page.keyboard.press("ArrowDown")
    expect(page.locator(".mark-name")).to_contain_text("A4.2:")
    page.get_by_role("link", name="Next mark").focus()
    page.keyboard.press("Enter")

    expect(page.locator(".mark-name")).to_contain_text("A4.3:")
    expect(page.locator("#marks-table tr.chosen th")).to_have_text("3")
    until(page, "document.activeElement.closest('#mark-told') !== null")
    assert windows.told == []


def test_brought_nearer_the_drawing_grows_and_its_words_do_not(server: Served, windows: Windows) -> None:
    page = windows.open(f"{server.address}/job/rehearsal-room/set-out?mark=A1.2")
    svg = page.locator("#set-out-drawn svg").first
    size = "s => parseFloat(getComputedStyle(s.querySelector('text.figure')).fontSize) * s.getScreenCTM().a"
    expect(page.locator("#set-out-drawn[data-shown]")).to_be_visible()
    before, words = svg.bounding_box(), svg.evaluate(size)
    assert before is not None

    page.get_by_role("button", name="Nearer").click()
    page.get_by_role("button", name="Nearer").click()
    until(page, f"() => document.querySelector('#set-out-drawn svg').clientWidth > {before['width'] * 1.4}")

    assert svg.evaluate(size) == pytest.approx(words, rel=0.02)
    assert words >= 16
    expect(page.locator("#set-out-drawn .ring")).to_have_count(1)
    page.get_by_role("button", name="Whole panel").click()
    until(page, f"() => document.querySelector('#set-out-drawn svg').clientWidth < {before['width'] * 1.1}")
    assert windows.told == []


@pytest.mark.parametrize(
    ("job", "panels"),
    [("rehearsal-room", ("A1", "A4", "A6", "A7", "A9")), ("music-stand-shelf-inches", ("",))],
)
def test_words_are_large_enough_and_never_meet(
    server: Served, windows: Windows, job: str, panels: tuple[str, ...]
) -> None:
    page = windows.open("about:blank", let_in_at=server.address, width=820, height=1180)
    for panel in panels:
        page.goto(f"{server.address}/job/{job}/set-out" + (f"?panel={panel}" if panel else ""))
        expect(page.locator("#set-out-drawn[data-shown]")).to_be_visible()
        page.evaluate("() => document.fonts.ready.then(() => 0)")
        for seen in page.evaluate(MEASURE.replace("'svg'", "'#set-out-drawn svg'")):
            for n, one in enumerate(seen["words"]):
                assert -1 <= one["left"], (panel, one)
                assert one["right"] <= seen["width"] + 1, (panel, one)
                assert not any(_meet(one, other) for other in seen["words"][n + 1 :]), (panel, one["words"])
        least = page.evaluate(
            "() => Math.min(...[...document.querySelectorAll('#set-out-drawn svg text')].map(t => "
            "parseFloat(getComputedStyle(t).fontSize) * Math.hypot(t.getScreenCTM().a, t.getScreenCTM().b)))"
        )
        assert least >= 13 - 0.01, panel
        assert page.evaluate("document.documentElement.scrollWidth") <= 820
    assert windows.told == []


def test_rods_are_chosen_and_shown_at_full_size_for_printing(server: Served, windows: Windows) -> None:
    page = windows.open(f"{server.address}/job/rehearsal-room/set-out?panel=A1")
    page.get_by_label("Rod shown").select_option("G3")
    expect(page.locator("#rod-strip title").first).to_contain_text("G3")
    page.locator("input[name='gang'][value='G3']").check()
    page.get_by_role("button", name="Show the sheets to print").click()

    page.wait_for_url("**/set-out/rods?gang=G1&gang=G3&paper=A4")
    tile = page.locator(".tile svg").first
    assert (tile.get_attribute("width") or "").endswith("mm")
    box = place_of(tile)
    assert box["width"] > 900  # about 267 mm at full size
    assert page.locator(".tile").count() >= 4
    expect(page.get_by_role("button", name="Print these sheets")).to_be_visible()
    assert windows.told == []


def test_an_address_may_end_in_a_mark_and_a_change_elsewhere_keeps_it(server: Served, windows: Windows) -> None:
    page = windows.open(f"{server.address}/job/first-box/set-out#A1.2")
    expect(page.locator(".mark-name")).to_contain_text("A1.2:")
    before = page.locator(".panel-size").inner_text()

    path = server.jobs / "first-box.toml"
    changed = "old => document.querySelector('.panel-size').innerText !== old"
    write_until_seen(page, path, ("depth = 250", "depth = 3"), changed, before)

    expect(page.locator(".mark-name")).to_contain_text("A1.2:")
    expect(page.locator("#set-out-drawn .ring")).to_have_count(1)
    assert windows.told == []


@pytest.mark.parametrize(("width", "dark"), [(1280, True), (820, False)])
def test_axe_finds_nothing(server: Served, windows: Windows, width: int, dark: bool) -> None:
    page = windows.open(f"{server.address}/job/rehearsal-room/set-out?mark=A1.3", width=width, dark=dark)
    expect(page.locator("#set-out-drawn .ring").first).to_be_visible()

    found = Axe().run(page)

    assert found.violations_count == 0, found.generate_report()
