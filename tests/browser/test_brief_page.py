"""The brief in a real browser: tapped, typed, dragged, by keyboard alone, in two tabs, and beside an editor."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Served, Windows, let_in, place_of

pytestmark = pytest.mark.browser

COLUMN = "cases[0].inside.columns"
PARTING = f'.parting[data-at="{COLUMN}[0].rows[1]"]'


@pytest.fixture(scope="module")
def page_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One server for all tests here; each takes a job of its own."""
    server = Served(home=tmp_path_factory.mktemp("brief") / "home")
    server.jobs.mkdir(parents=True)
    server.start()
    yield server
    server.kill()


@pytest.fixture
def cabinet(page_server: Served, request: pytest.FixtureRequest) -> tuple[str, Path]:
    """The folder cabinet under a name of this test's own."""
    name = re.sub(r"[^a-z]+", "-", request.node.name.casefold()).strip("-")
    page_server.take("rehearsal-room")
    path = (page_server.jobs / "rehearsal-room.toml").rename(page_server.jobs / f"{name}.toml")
    return name, path


def written(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text(encoding="utf-8"))


def field(page: Page, path: str) -> Any:
    return page.locator(f'[data-field="{path}"]')


def settled(page: Page, words: str) -> None:
    """Wait until the drawing shows a figure."""
    expect(page.locator("#brief-figure .front")).to_contain_text(words)


def test_a_border_is_dragged_and_moved_by_arrow_keys(
    page_server: Served, windows: Windows, cabinet: tuple[str, Path]
) -> None:
    name, path = cabinet
    page = windows.open(f"{page_server.address}/job/{name}/brief")
    border = page.locator(f'.parting[data-at="{COLUMN}[0]"]')
    box = place_of(border)
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 30, y, steps=4)
    expect(page.locator(".drag-figure")).to_contain_text("|")
    page.mouse.up()
    expect(page.locator("[data-step='-1']")).to_be_enabled()
    moved = written(path)["cases"][0]["inside"]["columns"][0]["width"]

    assert isinstance(moved, int | float)
    assert moved > 500
    assert moved % 5 == 0
    settled(page, f"{moved:g} ×")

    border = page.locator(f'.parting[data-at="{COLUMN}[0]"]')
    border.focus()
    border.press("ArrowLeft")
    border.press("ArrowLeft")
    border.press("Enter")
    settled(page, f"{moved - 10:g} ×")
    assert page.evaluate("document.activeElement.dataset.at") == f"{COLUMN}[0]"
    assert windows.told == []


def test_a_border_is_dragged_by_a_finger(page_server: Served, windows: Windows, cabinet: tuple[str, Path]) -> None:
    """The finger moves the border, up and down too, and the page stays where it is."""
    name, path = cabinet
    page = windows.open(f"{page_server.address}/job/{name}/brief", width=820, height=1180, touch=True)
    before = written(path)["cases"][0]["inside"]["columns"][0]
    border = page.locator(PARTING).first
    place_of(border)
    page.evaluate("at => document.querySelector(at).scrollIntoView({ block: 'center' })", PARTING)
    box = place_of(border)
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    scrolled = page.evaluate("window.scrollY")
    finger = page.context.new_cdp_session(page)

    def touch(kind: str, at: float | None) -> None:
        points = [] if at is None else [{"x": x, "y": at}]
        finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    touch("touchStart", y)
    for step in range(1, 16):
        touch("touchMove", y + 3 * step)
    expect(page.locator(".drag-figure")).to_contain_text("|")
    touch("touchEnd", None)
    expect(page.locator("[data-step='-1']")).to_be_enabled()

    after = written(path)["cases"][0]["inside"]["columns"][0]
    assert after["rows"][1] != before["rows"][1]
    assert page.evaluate("window.scrollY") == scrolled
    assert windows.told == []


def test_the_keyboard_alone_is_enough(page_server: Served, windows: Windows, cabinet: tuple[str, Path]) -> None:
    name, path = cabinet
    page = windows.open(f"{page_server.address}/job/{name}/brief")
    opening = page.locator(".opening[data-id='A.inside.1.4']")
    expect(opening).to_have_attribute("role", "button")
    to_the_drawing(page)
    walk(page, "PageDown", "A.inside.1.4")
    page.keyboard.press("Enter")
    expect(page.locator("#brief-chosen h2")).to_have_text("scores")
    expect(field(page, f"{COLUMN}[0].rows[3].holds").locator("xpath=self::*[@value='drawer']")).to_be_focused()
    page.keyboard.press("Tab")
    page.keyboard.type('9 1/2"')
    expect(page.locator("#brief-chosen")).to_contain_text("= 241.3 mm")
    page.keyboard.press("Enter")
    expect(page.locator("#faults")).to_be_visible()
    expect(page.locator("#brief-figure")).to_contain_text("from before the fault")
    assert written(path)["cases"][0]["inside"]["columns"][0]["rows"][3]["height"] == '9 1/2"'
    assert page.locator("#rod .crossed").count() == 1

    page.keyboard.press("Control+z")
    expect(page.locator("#faults")).to_be_hidden()
    page.keyboard.press("Control+Shift+z")
    expect(page.locator("#faults")).to_be_visible()
    page.keyboard.press("Control+z")
    expect(page.locator("#faults")).to_be_hidden()
    assert windows.told == []


def to_the_drawing(page: Page) -> None:
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.matches('.front :is(.opening, .panel, .size)')"):
            return
    raise AssertionError("the tab key does not come to the drawing")


def walk(page: Page, key: str, to: str) -> None:
    for _ in range(60):
        if page.evaluate("document.activeElement.dataset.id") == to:
            return
        page.keyboard.press(key)
    raise AssertionError(f"{key} does not come to {to}")


def test_every_thing_drawn_is_worked_by_keys(page_server: Served, windows: Windows, cabinet: tuple[str, Path]) -> None:
    name, _ = cabinet
    page = windows.open(f"{page_server.address}/job/{name}/brief")
    things = page.locator(".front :is(.opening, .panel, .size)")
    expect(page.locator(".parting").first).to_be_attached()
    to_the_drawing(page)

    assert page.locator(".front :is(.opening, .panel, .size)[tabindex='0']").count() == 1
    page.keyboard.press("Home")
    seen = set()
    for _ in range(things.count()):
        seen.add(page.evaluate("document.activeElement.dataset.id"))
        assert page.locator(".key-ring").count() == 2
        page.keyboard.press("PageDown")
    assert seen == set(things.evaluate_all("all => all.map(t => t.dataset.id)"))
    named = things.evaluate_all("all => all.every(t => / \\S/.test(t.getAttribute('aria-label')))")
    assert named

    walk(page, "PageDown", "A.inside.1.1")
    page.keyboard.press("ArrowDown")
    below = page.evaluate("document.activeElement.getBoundingClientRect().top")
    first = place_of(page.locator("[data-id='A.inside.1.1']"))
    assert below > first["y"]
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowRight")
    assert page.evaluate("document.activeElement.getBoundingClientRect().left") > first["x"] + 10
    assert windows.told == []


def test_a_panel_is_opened_by_keys_and_left_again(
    page_server: Served, windows: Windows, cabinet: tuple[str, Path]
) -> None:
    name, _ = cabinet
    page = windows.open(f"{page_server.address}/job/{name}/brief")
    to_the_drawing(page)
    plinth = page.locator(".front .panel[aria-label*='plinth']").first
    code = plinth.get_attribute("data-id")
    assert code
    walk(page, "PageDown", code)
    page.keyboard.press("Enter")
    expect(page.locator("#brief-chosen h2")).to_contain_text("plinth")
    height = field(page, "cases[0].plinth.height")
    expect(height).to_be_focused()
    page.keyboard.type("90")
    page.keyboard.press("Escape")
    expect(height).to_have_value("80")
    expect(height).to_be_focused()
    page.keyboard.press("Escape")
    expect(plinth).to_be_focused()
    assert windows.told == []


def test_what_can_not_be_removed_is_told_there(
    page_server: Served, windows: Windows, cabinet: tuple[str, Path]
) -> None:
    name, path = cabinet
    page = windows.open(f"{page_server.address}/job/{name}/brief")
    boards = page.locator("#group-boards")
    boards.locator("summary").first.click()
    boards.get_by_role("button", name=re.compile("Remove this board.*birch18")).click()
    told = page.locator("[data-at-fault='boards.birch18']")
    expect(told).to_contain_text("a board that is used: case A")
    expect(told).to_be_in_viewport()
    told.evaluate("told => { told.dataset.before = 'drawn anew'; }")
    boards.evaluate("boards => { boards.removeAttribute('data-steady'); }")  # else what is the same is left alone
    page.evaluate("document.dispatchEvent(new CustomEvent('storyrod:stale'))")
    anew = page.locator("[data-at-fault='boards.birch18']:not([data-before])")
    expect(anew).to_contain_text("a board that is used: case A")
    sizes = boards.get_by_role("button", name=re.compile("Remove this size.*birch18"))
    before = sizes.count()
    boards.get_by_role("button", name=re.compile("sheet size.*birch18")).click()
    expect(sizes).to_have_count(before + 1)
    expect(told).to_be_empty()
    page.get_by_role("button", name="Undo").click()
    expect(sizes).to_have_count(before)
    assert len(written(path)["boards"]["birch18"].get("sheets", [])) == before


def test_what_is_typed_outlives_a_change_by_hand(
    page_server: Served, windows: Windows, cabinet: tuple[str, Path]
) -> None:
    name, path = cabinet
    page = windows.open(f"{page_server.address}/job/{name}/brief?at=A.width")
    height = field(page, "cases[0].height")
    height.fill("84")
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("folder cabinet", "score cabinet").replace("1000", "1010"), encoding="utf-8")

    expect(page.locator("#job-title")).to_have_text("Rehearsal room: score cabinet")
    settled(page, "1010")
    expect(height).to_have_value("84")
    expect(height).to_be_focused()
    height.press_sequentially("0")
    height.press("Enter")
    settled(page, "840")
    assert written(path)["cases"][0]["height"] == 840
    assert written(path)["cases"][0]["width"] == 1010
    assert windows.told == []


def test_two_tabs_do_not_overwrite_each_other(page_server: Served, windows: Windows, cabinet: tuple[str, Path]) -> None:
    name, path = cabinet
    address = f"{page_server.address}/job/{name}/brief?at=A.width"
    first, second = windows.open(address), windows.open(address)
    second.evaluate("document.addEventListener('storyrod:changed', (e) => e.stopImmediatePropagation(), true)")
    version = second.locator("#job-title").get_attribute("data-version")
    field(first, "cases[0].width").fill("1100")
    field(first, "cases[0].width").press("Enter")
    settled(first, "1100")
    second.evaluate("v => { document.getElementById('job-title').dataset.version = v; }", version)
    field(second, "cases[0].height").fill("900")
    field(second, "cases[0].height").press("Enter")
    told = second.locator("#stale")
    expect(told).to_contain_text("1000 became 1100")
    expect(told).to_contain_text("Height: 900")
    expect(field(second, "cases[0].height")).to_have_value("860")
    assert written(path)["cases"][0]["height"] == 860
    told.get_by_role("button", name="Make my change on top of it").click()
    settled(second, "900")

    assert (written(path)["cases"][0]["width"], written(path)["cases"][0]["height"]) == (1100, 900)
    settled(first, "900")  # the first tab heard of it by itself
    assert [t for t in windows.told if "409" not in t] == []


def test_a_tap_is_not_lost_while_a_change_is_drawn(
    page_server: Served, windows: Windows, cabinet: tuple[str, Path]
) -> None:
    """What is typed is sent as the field is left: by the very press that chooses another opening."""
    name, _ = cabinet
    page = windows.open(f"{page_server.address}/job/{name}/brief?at={COLUMN}[0].rows[1]")
    field(page, f"{COLUMN}[0].rows[1].height").fill("160")
    box = place_of(page.locator(".opening[data-id='A.inside.2']"))
    page.mouse.move(box["x"] + 60, box["y"] + 60)
    page.mouse.down()
    page.wait_for_timeout(400)
    page.mouse.up()
    expect(page.locator("#brief-chosen h2")).to_have_text("hymn books")
    settled(page, "× 160")
    page.locator("#brief-figure .sheet").click(position={"x": 5, "y": 5})
    expect(page.locator("#brief-chosen h2")).to_have_text("The whole case")
    assert windows.told == []


def test_what_is_typed_is_sent_though_the_page_was_drawn_anew_meanwhile(
    page_server: Served, windows: Windows, cabinet: tuple[str, Path]
) -> None:
    """A browser tells of no change where the text was put back by a script."""
    name, path = cabinet
    page = windows.open(f"{page_server.address}/job/{name}/brief?at={COLUMN}[0].rows[1]")
    height = field(page, f"{COLUMN}[0].rows[1].height")
    height.fill("160")
    before = height.element_handle()
    assert before
    page.evaluate("document.dispatchEvent(new Event('storyrod:stale'))")
    page.wait_for_function("field => !field.isConnected", arg=before)
    expect(height).to_be_focused()
    expect(height).to_have_value("160")
    page.locator("#brief-figure .sheet").click(position={"x": 5, "y": 5})
    settled(page, "× 160")

    assert written(path)["cases"][0]["inside"]["columns"][0]["rows"][1]["height"] == 160
    assert windows.told == []


def test_what_enter_sends_is_sent_once_and_undone_at_once(
    page_server: Served, windows: Windows, cabinet: tuple[str, Path]
) -> None:
    """A field that goes from the page while it has the focus would tell of its change once more."""
    name, path = cabinet
    page = windows.open(f"{page_server.address}/job/{name}/brief")
    sent: list[str] = []
    page.on("request", lambda r: sent.append(r.url.rsplit("/", 1)[1]) if r.method == "POST" else None)
    page.locator(".opening").first.click()
    height = field(page, f"{COLUMN}[0].rows[0].height")
    height.focus()
    page.keyboard.press("Control+A")
    page.keyboard.type("120")
    page.keyboard.press("Enter")
    settled(page, "× 120")
    page.get_by_role("button", name="Undo").click()
    settled(page, "× 110")

    expect(height).to_have_value("110")
    assert sent == ["change", "step"]
    assert written(path)["cases"][0]["inside"]["columns"][0]["rows"][0]["height"] == 110


def test_what_is_marked_stays_marked_while_the_page_changes(
    page_server: Served, windows: Windows, cabinet: tuple[str, Path]
) -> None:
    name, path = cabinet
    page = windows.open(f"{page_server.address}/job/{name}/brief")
    page.locator(".opening").first.click()
    height = field(page, f"{COLUMN}[0].rows[0].height")
    height.focus()
    page.keyboard.press("Control+A")
    path.write_text(path.read_text(encoding="utf-8").replace("height = 110", "height = 111"), encoding="utf-8")
    settled(page, "× 111")
    page.keyboard.type("120")
    page.keyboard.press("Enter")

    settled(page, "× 120")
    expect(page.locator("#faults")).to_be_hidden()


def test_shapes_are_changed_by_buttons(page_server: Served, windows: Windows, cabinet: tuple[str, Path]) -> None:
    name, path = cabinet
    page = windows.open(f"{page_server.address}/job/{name}/brief", width=820, height=1180, touch=True)
    page.locator(".opening[data-id='A.inside.2']").tap()
    chosen = page.locator("#brief-chosen")
    expect(chosen).to_contain_text("hymn books")
    chosen.get_by_role("radio", name="open").check()
    expect(field(page, f"{COLUMN}[1].hinged")).to_have_count(0)
    chosen.get_by_label("Into how many").fill("3")
    chosen.get_by_role("button", name="Rows").click()
    expect(chosen).to_contain_text("It is cut into 3 rows")
    page.locator(".opening[data-id='A.inside.2.2']").tap()
    chosen.get_by_role("button", name="Remove this row").click()
    expect(chosen).to_contain_text("It is cut into 2 rows")
    page.get_by_role("button", name="Copy this case").click()
    expect(page.locator("#brief-cases .tabs").first).to_contain_text("Case B")
    expect(page.locator("#brief-cases [data-case='1']")).to_have_attribute("aria-current", "true")

    cases = written(path)["cases"]
    assert [c["code"] for c in cases] == ["A", "B"]
    assert len(cases[0]["inside"]["columns"][1]["rows"]) == 2
    assert windows.told == []


def test_nothing_needs_a_script(page_server: Served, browser: Browser, cabinet: tuple[str, Path]) -> None:
    name, path = cabinet
    context = browser.new_context(java_script_enabled=False)
    let_in(context, page_server.address)
    try:
        page = context.new_page()
        page.goto(f"{page_server.address}/job/{name}/brief")
        page.locator("#brief-tree summary").click()
        page.get_by_role("link", name="Column 2, hymn books").click()
        page.locator(f'[name="{COLUMN}[1].loose_shelves"]').fill("3")
        page.locator("#brief-chosen").get_by_role("button", name="Save").last.click()
        expect(page.locator("#brief-figure")).to_contain_text("3 loose shelves")
        page.locator("#brief-chosen").get_by_role("button", name="Move left").click()
        expect(page.locator("#brief-chosen h2")).to_have_text("hymn books")
        columns = written(path)["cases"][0]["inside"]["columns"]
        assert (columns[0]["name"], columns[0]["loose_shelves"]) == ("hymn books", 3)
    finally:
        context.close()


@pytest.mark.parametrize(("width", "dark"), [(1280, False), (820, True)])
def test_axe_finds_nothing(
    page_server: Served, windows: Windows, cabinet: tuple[str, Path], width: int, dark: bool
) -> None:
    name, path = cabinet
    axe = Axe()
    page = windows.open(f"{page_server.address}/job/{name}/brief?at={COLUMN}[1]", width=width, dark=dark)
    expect(page.locator(".parting").first).to_be_attached()
    for details in page.locator("details").all():
        details.evaluate("d => { d.open = true; }")
    found = {"brief": axe.run(page)}
    path.write_text(path.read_text(encoding="utf-8").replace("width = 1000", "width = 40"), encoding="utf-8")
    expect(page.locator("#faults")).to_be_visible()
    found["faults"] = axe.run(page)
    page.goto(f"{page_server.address}/job/{name}/text")
    found["text"] = axe.run(page)
    told = {
        at: [(v["id"], [n["html"][:120] for n in v["nodes"]][:3]) for v in result.response["violations"]]
        for at, result in found.items()
    }
    assert {k: v for k, v in told.items() if v} == {}
    assert windows.told == []
