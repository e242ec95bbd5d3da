"""The first page of a job answers its three questions on one screen, with the button that goes on."""

from __future__ import annotations

import pytest
from playwright.sync_api import FloatRect, Page, expect

from tests.browser.conftest import Served, Windows, place_of

pytestmark = pytest.mark.browser

JOBS = ("first-box", "rehearsal-room", "low-units")
ANSWERS = ("#can-i", "#what-now", "#what-buy .verdict", "#what-buy thead", "#what-now .button.main")


@pytest.mark.parametrize("job", JOBS)
def test_the_three_answers_and_the_button_that_goes_on_are_on_one_screen(
    served: Served, windows: Windows, job: str
) -> None:
    served.take(job)
    served.start()
    for width, height in ((820, 1180), (1280, 800)):
        page = windows.open(f"{served.address}/job/{job}/overview", width=width, height=height)
        expect(page.locator("#what-now .button.main")).to_be_visible()
        page.evaluate("document.fonts.ready")
        out = [f"{width}: {told}" for told in out_of_sight(page)]
        assert out == []
    assert windows.told == []


def out_of_sight(page: Page) -> list[str]:
    """Return which of the answers do not lie whole on the screen, above the rod where it lies along the bottom."""
    rod = place_of(page.locator(".rod"))
    size = page.viewport_size
    assert size is not None
    low = rod["y"] if rod["width"] >= size["width"] else size["height"]
    places = {name: place_of(page.locator(name).first) for name in ANSWERS}
    return [f"{name} {place}" for name, place in places.items() if not _lies_in(place, size["width"], low)]


def _lies_in(place: FloatRect, width: float, low: float) -> bool:
    return (
        place["x"] >= 0
        and place["y"] >= 0
        and place["x"] + place["width"] <= width
        and place["y"] + place["height"] <= low
    )
