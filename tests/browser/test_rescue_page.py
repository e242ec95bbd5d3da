"""From "I drilled the wrong face" to the printed rescue sheet, on a tablet: in fewer than ten taps."""

from __future__ import annotations

from collections.abc import Iterator
from urllib.parse import urljoin

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Served, Windows

pytestmark = pytest.mark.browser

JOB = "first-box"
FEWER_THAN = 10


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    made = Served(home=tmp_path_factory.mktemp("rescue"))
    made.take(JOB)
    made.start()
    yield made
    made.kill()


class Taps:
    """Taps what is on the page, as a thumb does, and counts."""

    def __init__(self, page: Page) -> None:
        self.page, self.count = page, 0

    def on(self, role: str, name: str) -> None:
        self.page.get_by_role(role, name=name).first.tap()  # type: ignore[arg-type]  # one of those there are
        self.count += 1


def test_from_the_wrong_face_to_the_printed_sheet_in_fewer_than_ten_taps(server: Served, windows: Windows) -> None:
    page = windows.open(f"{server.address}/job/{JOB}/bench", width=820, height=1180, touch=True)
    taps = Taps(page)

    taps.on("link", "What went wrong here?")
    expect(page.locator("#slip")).to_be_visible()
    if page.get_by_role("link", name="A1").count():  # a card of several panels asks which
        taps.on("link", "A1")
    taps.on("link", "Cut in the wrong face or edge")
    taps.on("button", "Write it down")  # all of the panel's cuts are picked, since one turned it over
    expect(page.get_by_role("button", name="Take this way").first).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= 820
    taps.on("button", "Take this way")
    sheet = page.get_by_role("link", name="Rescue sheet (PDF)")
    expect(sheet).to_be_visible()
    taps.count += 1  # on the sheet; it then lies in the viewer, where printing takes two more
    printed = page.request.get(urljoin(page.url, str(sheet.get_attribute("href"))))

    assert printed.headers["content-type"] == "application/pdf"
    assert printed.body().startswith(b"%PDF")
    assert taps.count + 2 < FEWER_THAN
    assert windows.told == []
