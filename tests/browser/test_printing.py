"""Print in a real browser: the packet opened and downloaded, the page printed."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import expect
from pypdf import PdfReader

from tests.browser.conftest import Served, Windows
from tests.browser.test_joints import clean

pytestmark = pytest.mark.browser


def test_the_packet_is_downloaded_and_files_too(served: Served, windows: Windows, tmp_path: Path) -> None:
    job = served.take("first-box")
    served.start()
    page = windows.open(f"{served.address}/job/{job}/print")
    page.get_by_text("The whole book").click()
    for box in page.locator('input[name="part"]').all()[1:]:
        box.uncheck()
    # A browser without a viewer for PDF opens no page on the book, but asks for it all the same.
    with page.context.expect_event("request", lambda asked: "/files/book.pdf" in asked.url) as opened:
        page.get_by_role("button", name="Open the book").click()
    address = opened.value.url
    assert "part=cover" in address
    assert "part=rods" not in address
    answer = page.request.get(address)
    target = tmp_path / "book.pdf"
    target.write_bytes(answer.body())
    assert 0 < len(PdfReader(target).pages) < 8
    with page.expect_download() as taken:
        page.get_by_role("link", name="cutting list").click()
    assert taken.value.suggested_filename == f"{job}-cutting-list.csv"
    assert clean(page) == []
    with page.expect_popup() as tab:
        page.get_by_role("link", name="Take everything away").click()
    making = tab.value
    expect(making.get_by_role("progressbar")).to_be_visible()
    assert clean(making) == []
    making.get_by_role("button", name="Stop").click()
    expect(making.locator("#making")).to_contain_text("Stopped.")
    dark = windows.open(f"{served.address}/job/{job}/print", width=820, height=1180, dark=True)
    expect(dark.get_by_role("heading", name="The bench packet")).to_be_visible()
    assert clean(dark) == []
    assert windows.told == []


def test_stages_print_their_matter_without_the_ways(served: Served, windows: Windows, tmp_path: Path) -> None:
    job = served.take("first-box")
    served.start()
    page = windows.open(f"{served.address}/job/{job}/joints?joint=A.J1")
    page.emulate_media(media="print")
    target = tmp_path / "stage.pdf"
    for stage in ("joints?joint=A.J1", "sheets?step=5", "costs"):
        page.goto(f"{served.address}/job/{job}/{stage}")
        for gone in (".rod", ".aside-ways", ".no-print", "button"):
            assert all(not e.is_visible() for e in page.locator(gone).all())
        page.pdf(path=target, format="A4")
        told = "".join(p.extract_text() for p in PdfReader(target).pages)
        assert stage.partition("?")[0].capitalize() in told
        assert "Peg box" in told
    assert windows.told == []
