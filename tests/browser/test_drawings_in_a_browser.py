"""Drawings in a real browser: with the real lettering, no two texts meet and nothing is cut off.

The drawing package places words by a table of widths; the browser measures the words as they come out.
"""

from __future__ import annotations

import base64
from collections.abc import Iterator
from importlib.resources import files
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from storyrod.adapters import svg
from storyrod.adapters.files import read_job
from storyrod.drawing import Drawing, case_elevation, case_exploded, case_view, panel_set_out, rod_tiles
from storyrod.planning import Plan
from tests.places import EXAMPLES

pytestmark = pytest.mark.browser

MEASURE = """
() => [...document.querySelectorAll('svg')].map(svg => {
  const frame = svg.getBoundingClientRect();
  const words = [...svg.querySelectorAll('text')].map(t => {
    const b = t.getBBox(), m = t.getScreenCTM();
    const corners = [[b.x, b.y], [b.x + b.width, b.y], [b.x + b.width, b.y + b.height], [b.x, b.y + b.height]]
      .map(([x, y]) => [m.a * x + m.c * y + m.e - frame.x, m.b * x + m.d * y + m.f - frame.y]);
    const xs = corners.map(c => c[0]), ys = corners.map(c => c[1]);
    return {words: t.textContent, left: Math.min(...xs), right: Math.max(...xs),
            top: Math.min(...ys), bottom: Math.max(...ys),
            size: b.height * Math.hypot(m.a, m.b), turned: Math.abs(m.b) > Math.abs(m.a)};
  });
  return {width: frame.width, height: frame.height, words};
})
"""


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    """Return a page of its own, closed at the end."""
    context = browser.new_context()
    yield context.new_page()
    context.close()


@pytest.fixture(scope="module")
def lettering() -> str:
    """Return the style that loads the project's own lettering."""
    rules = []
    for name, weight in (("B612-Regular.otf", 400), ("B612-Bold.otf", 700)):
        data = base64.b64encode((files("storyrod") / "data" / "fonts" / name).read_bytes()).decode()
        rules.append(
            f"@font-face {{ font-family: B612; font-weight: {weight}; src: url(data:font/otf;base64,{data}); }}"
        )
    return "<style>" + "".join(rules) + " body { margin: 0 } svg { display: block }</style>"


def drawings_of(name: str) -> list[Drawing]:
    """Return what the packet draws of one example."""
    told = read_job(EXAMPLES / name)
    plan = Plan(told.job, told.workshop)
    made: list[Drawing] = []
    for case, out in zip(plan.details.cases, plan.set_out.cases, strict=True):
        made += [case_elevation(case), case_view(case), case_exploded(case)]
        for panel in out.panels:
            made += panel_set_out(panel)
    for rod in plan.set_out.rods:
        made += rod_tiles(rod)
    return made


def measured(page: Page, lettering: str, drawings: list[Drawing]) -> list[dict[str, Any]]:
    """Return the size of each drawing, and the place of every text in it, as the browser lays them out (px)."""
    page.set_content(lettering + "".join(svg.write(d, prefix=f"d{n}") for n, d in enumerate(drawings)))
    page.evaluate("() => document.fonts.ready.then(() => 0)")
    found: list[dict[str, Any]] = page.evaluate(MEASURE)
    return found


@pytest.mark.parametrize("name", ["first-box.toml", "rehearsal-room.toml", "music-stand-shelf-inches.toml"])
def test_no_text_is_cut_off_or_meets_another(page: Page, lettering: str, name: str) -> None:
    drawings = drawings_of(name)
    for drawing, seen in zip(drawings, measured(page, lettering, drawings), strict=True):
        words = seen["words"]
        for text in words:
            assert text["left"] >= -1, (drawing.id, text)
            assert text["top"] >= -1, (drawing.id, text)
            assert text["right"] <= seen["width"] + 1, (drawing.id, text)
            assert text["bottom"] <= seen["height"] + 1, (drawing.id, text)
        for n, one in enumerate(words):
            for other in words[n + 1 :]:
                assert not _meet(one, other), (drawing.id, one["words"], other["words"])


def _meet(a: dict[str, Any], b: dict[str, Any]) -> bool:
    """Return whether the ink of two texts meets; a box is higher than its letters by about a fifth above and below."""
    shrink = 0.24 * min(a["size"], b["size"])

    def apart(low: str, high: str, less: float) -> bool:
        return bool(a[high] - less <= b[low] + less or b[high] - less <= a[low] + less)

    if a["turned"] != b["turned"]:
        return not (apart("top", "bottom", shrink) or apart("left", "right", shrink))
    across, along = (("left", "right"), ("top", "bottom")) if a["turned"] else (("top", "bottom"), ("left", "right"))
    return not (apart(*across, shrink) or apart(*along, 0.3))
