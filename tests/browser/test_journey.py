"""Whole journeys through the page in a real browser: a first visit, a job made with the keyboard, every page looked at.

What is judged of every page: that axe finds nothing, nothing runs over the window's side, nothing is too small to read
or to hit with a thumb, the browser complains of nothing, no request leaves the machine, and it prints with its content.
"""

from __future__ import annotations

import io
import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, Response, expect

from storyrod.adapters.web._stages import STAGES
from storyrod.adapters.web.first_visit import EXAMPLE
from tests.browser.conftest import Served, Windows, let_in
from tests.ports import free_port

pytestmark = pytest.mark.browser

JOB: Final = "low-units"
"""A job with several cases, drawers, a workshop of its own and keyhole connectors."""

PAGES: Final = (
    *("/", "/new", "/workshop", "/workshop/cutters", "/workshop/saw", "/workshop/runners", "/workshop/methods"),
    *("/workshop/measure", "/workshop/measure?kind=keyhole&step=along"),
    *(f"/job/{JOB}/{stage.key}" for stage in STAGES),
)

LEAST_TEXT: Final = 13
LEAST_TARGET: Final = 40

SMALL_TEXT: Final = """least => {
  const small = new Set();
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const node = walk.currentNode, holder = node.parentElement;
    if (!node.textContent.trim() || !holder.checkVisibility({ visibilityProperty: true })) continue;
    if (holder.closest(".unseen, title, desc, script, style, option, datalist")) continue;
    const svg = holder.closest("svg");
    const scale = svg && holder.getScreenCTM ? Math.hypot(holder.getScreenCTM().a, holder.getScreenCTM().b) : 1;
    const size = parseFloat(getComputedStyle(holder).fontSize) * scale;
    if (size < least - 0.05) small.add(`${size.toFixed(1)} px: ${node.textContent.trim().slice(0, 40)}`);
  }
  return [...small];
}"""

SMALL_TARGETS: Final = """least => {
  const small = new Set();
  const wanted = "a[href], button, input:not([type=hidden]), select, textarea, summary, [role=button], [role=tab]";
  for (const element of document.querySelectorAll(wanted)) {
    if (!element.checkVisibility({ visibilityProperty: true }) || element.closest(".unseen, .skip")) continue;
    if (element.matches(".skip, [aria-hidden=true]")) continue;
    const inSentence = element.matches("a") && getComputedStyle(element).display === "inline"
      && [...element.parentElement.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim());
    if (inSentence) continue;
    const label = element.matches("input[type=checkbox], input[type=radio]")
      ? element.closest("label") || document.querySelector(`label[for="${CSS.escape(element.id)}"]`) : null;
    const boxes = [element, label].filter(Boolean).map((e) => e.getBoundingClientRect());
    const box = boxes.sort((a, b) => b.width * b.height - a.width * a.height)[0];
    const inDrawing = element.closest("svg");  // a dimension may be slim: it is long
    if (inDrawing && Math.max(box.width, box.height) >= least) continue;
    if (box.width && (box.height < least - 0.5 || box.width < least - 0.5))
      small.add(`${box.width.toFixed(0)} x ${box.height.toFixed(0)}: ${element.outerHTML.slice(0, 90)}`);
  }
  return [...small];
}"""

SPILLING: Final = """() => {
  const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
  if (wide <= 0) return [];
  const over = [...document.querySelectorAll("body *")].filter((e) => e.getBoundingClientRect().right > innerWidth + 1
    && !e.closest(".wide") && e.checkVisibility());
  return [`${wide} px too wide`, ...over.slice(0, 4).map((e) => e.outerHTML.slice(0, 100))];
}"""


PRINTED_WAYS: Final = """() =>
  [...document.querySelectorAll("nav, .home, .rod, .said, .undoing, button")].filter((e) => e.checkVisibility())
    .map((e) => e.outerHTML.slice(0, 80))"""


@dataclass(kw_only=True)
class Looked:
    """One window, with what it asked for and what it complained of."""

    page: Page
    address: str
    asked: list[str] = field(default_factory=list)
    told: list[str] = field(default_factory=list)


@pytest.fixture(scope="module")
def looked(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Looked]:
    """One server and one window for all pages."""
    server = Served(home=tmp_path_factory.mktemp("journey") / "home")
    server.take(JOB)
    server.start()
    context = browser.new_context(viewport={"width": 1280, "height": 900}, reduced_motion="reduce")
    let_in(context, server.address)
    page = context.new_page()
    page.set_default_timeout(300_000)
    found = Looked(page=page, address=server.address)
    page.on("request", lambda r: found.asked.append(r.url))
    page.on("console", lambda m: found.told.append(m.text) if m.type in {"error", "warning"} else None)
    page.on("pageerror", lambda e: found.told.append(str(e)))
    try:
        yield found
    finally:
        context.close()
        server.kill()


@pytest.mark.parametrize("path", PAGES)
def test_a_page_is_sound_at_every_size_and_theme(looked: Looked, path: str) -> None:
    page = looked.page
    looked.told.clear()
    page.set_viewport_size({"width": 1280, "height": 900})
    page.emulate_media(color_scheme="light", media="screen")
    answered = page.goto(f"{looked.address}{path}")
    assert answered is not None
    assert answered.status == 200
    settle(page)
    wrong: list[str] = []
    for width, theme in ((1280, "light"), (820, "dark")):  # each size and each theme once: colours hang on no width
        if width == 820:
            page.set_viewport_size({"width": 820, "height": 1180})
            page.emulate_media(color_scheme="dark")
            page.reload()  # a tablet opens it at its own width
            settle(page)
        wrong += [f"{width} {theme}: {told}" for told in axe_finds(page)]
        # looked at after axe has given it the time to be drawn
        wrong += [f"{width}: {told}" for told in page.evaluate(SPILLING)]
        wrong += [f"{width}: text of {told}" for told in page.evaluate(SMALL_TEXT, LEAST_TEXT)]
    wrong += [f"820: a target of {told}" for told in page.evaluate(SMALL_TARGETS, LEAST_TARGET)]
    wrong += prints_badly(page)

    assert not wrong, "\n".join(wrong)
    assert looked.told == []
    elsewhere = [a for a in looked.asked if not a.startswith((looked.address, "data:", "blob:"))]
    assert elsewhere == []


def settle(page: Page) -> None:
    """Wait until a page has what it asks for when it opens."""
    page.wait_for_load_state("load")
    page.wait_for_timeout(150)


def axe_finds(page: Page) -> list[str]:
    """Return what axe finds wrong, in words."""
    if not page.evaluate("() => 'axe' in window"):
        page.evaluate(Axe().axe_script)
    options = {"resultTypes": ["violations"]}
    found = page.evaluate("options => axe.run(document, options)", options)["violations"]
    nodes = [(v, n) for v in found for n in v["nodes"][:3]]
    return [f"axe {v['id']} ({v['impact']}): {v['help']}: {n['html'][:120]} {_why(n)}" for v, n in nodes]


def _why(node: dict[str, Any]) -> str:
    return "; ".join(c["message"] for c in node["any"][:1])


def prints_badly(page: Page) -> list[str]:
    """Return what is wrong with a page as it prints: it must have its content, and none of its ways elsewhere."""
    from pypdf import PdfReader

    page.emulate_media(media="print", color_scheme="light")
    shown = page.evaluate(PRINTED_WAYS)
    words = page.locator("main").inner_text().split()
    printed = PdfReader(io.BytesIO(page.pdf(format="A4")))
    page.emulate_media(media="screen")
    text = "".join("".join(p.extract_text().split()) for p in printed.pages)
    kept = sum(1 for word in words[:60] if word in text)
    wrong = [f"printed: {way}" for way in shown[:3]]
    if len(words) < 12 or kept < 0.8 * len(words[:60]):
        wrong.append(f"its print has hardly any content: {text[:200]!r}")
    return wrong


def test_a_first_visit_opens_the_example(tmp_path: Path, windows: Windows) -> None:
    home = tmp_path / "home"
    process = subprocess.Popen(
        [sys.executable, "-m", "storyrod", "open", "--no-browser", "--port", str(free_port())],
        env={**os.environ, "STORYROD_HOME": str(home)}, stdout=subprocess.PIPE, text=True,
    )  # fmt: skip
    try:
        assert process.stdout is not None
        told = process.stdout.readline()
        address = told.split("The page is at ")[1].strip()
        page = windows.open(address)
        address = page.url
        assert address.endswith("/")  # the key of the start is gone from the address
        expect(page.locator("#about-pictures svg.drawing")).to_have_count(3)
        page.get_by_role("link", name="Look at an example").click()
        page.wait_for_url(f"**/job/{EXAMPLE}/overview")
        expect(page.locator("main svg.drawing").first).to_be_visible()
        expect(page.locator("#faults")).to_be_hidden()
        page.get_by_role("link", name="Jobs", exact=True).click()
        card = page.locator(f"main #job-{EXAMPLE} a.open")
        expect(card).to_have_attribute("href", f"/job/{EXAMPLE}/overview")
        card.click()
        page.wait_for_url(f"**/job/{EXAMPLE}/overview")
        expect(page.locator("main h1").first).to_be_visible()
        assert windows.told == []
    finally:
        process.kill()
        process.wait(timeout=300)
        if process.stdout is not None:
            process.stdout.close()


def focused(page: Page) -> str:
    """Return what has the focus, as it is read out."""
    return str(
        page.evaluate(
            """() => { const e = document.activeElement; if (!e) return "";
            const label = e.labels && e.labels.length ? e.labels[0].innerText : "";
            return (e.getAttribute("aria-label") || label || e.innerText || e.value || "").trim(); }"""
        )
    )


def tab_to(page: Page, words: str, *, most: int = 150) -> None:
    """Press Tab until what is read out begins with `words`."""
    heard = []
    for _ in range(most):
        page.keyboard.press("Tab")
        told = focused(page)
        heard.append(told[:30])
        if told.startswith(words):
            return
    raise AssertionError(f'"{words}" is not reached by Tab: {heard[:60]}')


def is_packet(answered: Response) -> bool:
    return "packet" in answered.url and answered.headers.get("content-type") == "application/pdf"


def test_from_an_empty_list_to_a_packet_with_the_keyboard_alone(served: Served, windows: Windows) -> None:
    served.jobs.mkdir(parents=True)
    served.start()
    page = windows.open(served.address)
    tab_to(page, "New job")
    page.keyboard.press("Enter")
    page.wait_for_url("**/new")
    tab_to(page, "drawers, one below the other")
    tab_to(page, "How many")
    page.keyboard.type("2")
    tab_to(page, "Width")
    page.keyboard.type("560")
    tab_to(page, "Title")
    page.keyboard.type("Hymn book drawers")
    tab_to(page, "Make the job")
    page.keyboard.press("Enter")
    page.wait_for_url("**/brief")
    expect(page.locator("#job-title")).to_have_text("Hymn book drawers")
    expect(page.locator("#faults")).to_be_hidden()
    tab_to(page, "Print")
    page.keyboard.press("Enter")
    page.wait_for_url("**/print")
    tab_to(page, "Open the packet")
    with page.context.expect_event("response", is_packet, timeout=300_000) as got:  # after the tab that says how far
        page.keyboard.press("Enter")
    assert got.value.status == 200
    assert (served.jobs / "hymn-book-drawers.toml").exists()
    assert windows.told == []
