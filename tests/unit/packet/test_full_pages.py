"""No page of a bench packet is left half white but where a part of it ends, measured on what is printed."""

from __future__ import annotations

from dataclasses import dataclass

import pypdfium2
import pytest

from storyrod_blind._page import Page, read_pages
from tests.kept import example_packet
from tests.places import EXAMPLES

NAMES = sorted(p.stem for p in EXAMPLES.glob("*.toml") if "[[cases]]" in p.read_text(encoding="utf-8"))

HALF = 0.5
_HEAD = 44  # pt from the top of a page to what stands under its head's line
_FOOT = 36  # pt from the bottom of a page to the line of its foot
_FRAME = 18  # pt from the first words of the shared caution up to its frame
_LOW = 200  # pt from the bottom of a page: a caution that begins higher is not its foot
_TITLE = 14.0  # pt in which the smallest title of a part is set; other words of a page are smaller
_INK = 200  # of 255: what is darker is printed

MOST_HALF_WHITE = {
    "choir-alcove-cupboard": 2,
    "first-box": 1,
    "hymn-book-unit": 1,
    "hymn-wall-cupboard": 0,
    "low-units": 2,
    "music-stand-shelf-inches": 4,
    "percussion-chest": 1,
    "rehearsal-room": 0,
    "robe-cupboard": 2,
    "score-shelves": 2,
    "sheet-music-counter": 1,
}
"""How many pages under half full each example has at the most, its last one counted; they only grow fewer."""


@dataclass(frozen=True, slots=True)
class Filled:
    """A page, how much of it is used from its head down, and whether what is on it goes on overleaf."""

    number: int
    share: float
    goes_on: bool


def filled_pages(pdf: bytes) -> list[Filled]:
    """Return how each page is filled, as far down as something is printed between its head and its foot."""
    document, pages = pypdfium2.PdfDocument(pdf), read_pages(pdf)
    following = [_begins_a_part(page) for page in pages[1:]]
    shares = [_share(document[n], page) for n, page in enumerate(pages)]
    goes_on = [not begins for begins in following] + [False]
    return [Filled(p.number, s, g) for p, s, g in zip(pages, shares, goes_on, strict=True)]


def _share(printed: pypdfium2.PdfPage, page: Page) -> float:
    ink = printed.render(scale=1).to_pil().convert("L").point(lambda level: 255 if level < _INK else 0)
    shared = next((r.y for r in page.runs if r.text.startswith("At every tool") and r.y < _LOW), None)
    foot = ink.height - (shared + _FRAME if shared else _FOOT)
    box = ink.crop((0, _HEAD, ink.width, int(foot))).getbbox()
    return 0.0 if box is None else box[3] / (foot - _HEAD)


def _begins_a_part(page: Page) -> bool:
    first = next((r for r in page.runs if page.foot < r.y < page.head), None)
    return first is not None and first.size > _TITLE


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_a_page_under_half_full_is_the_last_of_its_part(name: str) -> None:
    low = [p for p in filled_pages(example_packet(name)) if p.share < HALF]

    assert [p for p in low if p.goes_on] == []
    assert len(low) <= MOST_HALF_WHITE[name], low


def test_how_full_a_page_is_comes_from_what_is_printed() -> None:
    """A page of one line, one that is full and goes on, and the last."""
    from storyrod.adapters.packet._blocks import Packet, Section
    from storyrod.adapters.packet._typeset import typeset
    from storyrod.telling.blocks import Words

    line = Words(text="Cut the sides.")
    sections = (
        Section(title="First", head="first", blocks=(line,)),
        Section(title="Second", head="second", blocks=(line,) * 90),
    )
    pdf = typeset(Packet(title="T", mark="m", maker="", date="", paper="A4", unit="millimetres", sections=sections))

    first, *rest = filled_pages(pdf)
    assert (first.share < 0.2, first.goes_on) == (True, False)
    assert (rest[0].share > 0.9, rest[0].goes_on) == (True, True)
    assert (rest[-1].share < 1.0, rest[-1].goes_on) == (True, False)
