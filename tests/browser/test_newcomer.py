"""One who has read nothing makes a unit under a bench: few taps, few keys, and the packet is there."""

from __future__ import annotations

import io

import pytest

from tests.browser.conftest import Served, Windows
from tests.browser.newcomer import Hand, walk

pytestmark = pytest.mark.browser

MOST_TAPS = 10
MOST_KEYS = 25


@pytest.mark.parametrize(("width", "height"), [(820, 1180), (1280, 800)])
def test_from_nothing_to_the_packet_of_a_unit_under_a_bench(
    served: Served, windows: Windows, width: int, height: int
) -> None:
    from pypdf import PdfReader

    served.start()
    page = windows.open("about:blank", let_in_at=served.address, width=width, height=height, touch=True)
    hand = Hand(page=page)
    packet = walk(hand, served.address)

    assert hand.taps <= MOST_TAPS, hand
    assert hand.keys <= MOST_KEYS, hand
    text = " ".join(p.extract_text() for p in PdfReader(io.BytesIO(packet)).pages)
    assert "900 \u00d7 820 \u00d7 600" in text
    assert "plinth" in text
    assert [p.name for p in served.jobs.glob("case-with-three-drawers.toml")]
    assert windows.told == []
