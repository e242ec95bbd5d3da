"""The packet, read back: pages, words, sizes on paper, and nothing off the page."""

from __future__ import annotations

import io
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

import pypdfium2
import pytest
from PIL import Image
from pypdf import PdfReader

from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.adapters.packet import make_packet, make_rods
from storyrod.adapters.packet._blocks import Packet, Section, Tiles
from storyrod.adapters.packet._make import packet_sections
from storyrod.adapters.packet._rods import rod_sections
from storyrod.adapters.packet._typeset import typeset
from storyrod.drawing import check_bar_drawing, rod_tiles
from storyrod.measure.length import Unit
from storyrod.model.job import Paper
from storyrod.planning import Plan
from storyrod.telling.blocks import Table, Words, table
from tests.builders import case, columns, drawer, job, opening, rows, shelves
from tests.places import EXAMPLES

MM = 72 / 25.4


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Return a case with two columns, a drawer and loose shelves."""
    made = job(case(width=900, inside=columns(rows(drawer(160.0), opening()), shelves(2))))
    return Plan(replace(made, title="Rehearsal room", maker="the choir"), packaged_workshop())


@pytest.fixture(scope="module")
def pages(plan: Plan) -> list[str]:
    """Return the words of each page."""
    return words_of(make_packet(plan, date="1 May 2026"))


def words_of(pdf: bytes) -> list[str]:
    """Return the words of each page of a PDF."""
    return [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]


def test_every_page_says_job_version_date_and_number(plan: Plan, pages: list[str]) -> None:
    upright = [p for p in pages if "Rehearsal room" in p]
    assert len(upright) >= 10
    assert all(plan.version in p and "1 May 2026" in p for p in upright)
    for number, page in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in page


def test_the_foot_of_every_page_says_its_unit(pages: list[str]) -> None:
    assert all("Lengths in millimetres." in p for p in pages)


def test_every_panel_with_marks_has_its_sheet(plan: Plan, pages: list[str]) -> None:
    whole = "\n".join(pages)
    for gang in plan.set_out.gangs:
        marks = [plan.set_out.of(p).panel.mark for p in gang.panels]
        assert " + ".join(marks) in whole or f"{marks[0]}: " in whole


def test_the_contents_stand_on_the_cover_with_the_page_of_every_sheet(plan: Plan, pages: list[str]) -> None:
    contents = pages[0].partition("In this packet")[2]
    assert contents.count("Set-out sheets") == 1
    assert contents.count("Set-up cards") == 1
    sections = packet_sections(plan)[1:]
    members = Counter(s.group for s in sections)
    for section in sections:
        short = section.title.partition(":")[0] if section.group else section.title
        if members[section.group] == 1 and section.group:
            short = section.group  # a group of one is told by its own name
        told = re.search(rf"(?<!\+ ){re.escape(short)}\s+(\d+)", contents)
        assert told, short
        assert section.title.split()[0] in pages[int(told[1]) - 1]


def test_rods_fill_their_pages_each_with_a_check_bar_and_nothing_left_out(plan: Plan) -> None:
    (section,) = rod_sections(plan)
    drawn = [r for r in plan.set_out.rods if len(r.lengths) + len(r.widths) >= 3]
    pages = [b for b in section.blocks if isinstance(b, Tiles)]
    rows = [row for page in pages for row in page.drawings[1:] if isinstance(row, tuple)]
    tiles = [t.id for row in rows for t in row]

    assert [page.drawings[0] for page in pages] == [(check_bar_drawing(),)] * len(pages)
    assert sorted(tiles) == sorted(t.id for r in drawn for t in rod_tiles(r))
    assert all(sum(t.paper_size[0] for t in row) + 5.0 * (len(row) - 1) <= 267.0 + 1e-9 for row in rows)
    for page in pages:
        assert sum(max(t.paper_size[1] for t in row) + 3.0 for row in page.drawings if isinstance(row, tuple)) <= 191.0


def test_every_mark_stands_in_a_table_with_its_figures(plan: Plan) -> None:
    """Whatever is marked is in the sheet's table: the numbers from 1 to the last, each once."""
    sections = {s.title: s for s in packet_sections(plan)}
    for gang in plan.set_out.gangs:
        outs = [plan.set_out.of(p) for p in gang.panels]
        first = outs[0].panel
        title = " + ".join(o.panel.mark for o in outs) if len(outs) > 1 else f"{first.mark}: {first.name}"
        tables = [b for b in sections[title].blocks if isinstance(b, Table) and b.columns[0].head == "mark"]
        told: list[int] = []
        for row in (row for t in tables if t.title.startswith("Marks, in ") for row in t.rows):
            low, _, high = row[0].partition("–")
            told += range(int(low), int(high or low) + 1)
        assert sorted(told) == [m.number for m in outs[0].marks]


def test_the_same_plan_gives_the_same_bytes(plan: Plan) -> None:
    assert make_packet(plan, date="x") == make_packet(plan, date="x")


@pytest.mark.parametrize(("paper", "width", "height"), [("A4", 210, 297), ("A3", 297, 420), ("Letter", 215.9, 279.4)])
def test_the_paper_is_the_job_s(paper: str, width: float, height: float) -> None:
    """ISO 216 for A4 and A3; ANSI/ASME Y14.1 for Letter."""
    made = replace(job(case()), paper=Paper(paper))
    page = PdfReader(io.BytesIO(make_packet(Plan(made, packaged_workshop())))).pages[0]

    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
        (width * MM, height * MM), abs=0.5
    )


def test_a_check_bar_is_a_hundred_mm_on_paper(plan: Plan) -> None:
    """Rendered at 10 pixels a mm, the bar's outline is one dark line 1000 pixels long, within a line's width."""
    pdf = make_rods(plan)
    number = next(n for n, words in enumerate(words_of(pdf)) if "bar must measure 100 mm" in words)
    image = pypdfium2.PdfDocument(pdf)[number].render(scale=10 * 25.4 / 72).to_pil().convert("L")

    lines = {m.end() - m.start() for row in range(image.height) for m in dark_runs(image, row)}
    assert any(995 <= length <= 1005 for length in lines)


def dark_runs(image: Image.Image, row: int) -> Iterator[re.Match[bytes]]:
    """Return the long dark stretches in one row of pixels."""
    return re.finditer(rb"[\x00-\x80]{500,}", image.crop((0, row, image.width, row + 1)).tobytes())


def test_nothing_is_drawn_off_the_page(plan: Plan) -> None:
    """A band of 3 mm along every edge of every page stays white."""
    document = pypdfium2.PdfDocument(make_packet(plan))
    for page in document:
        image = page.render(scale=2).to_pil().convert("L")
        band = int(3 * MM * 2)
        w, h = image.size
        for box in ((0, 0, w, band), (0, h - band, w, h), (0, 0, band, h), (w - band, 0, w, h)):
            assert image.crop(box).getextrema()[0] > 200


def test_a_maker_s_words_are_never_markup() -> None:
    wicked = '#panic("x") *bold* _it_ $x$ <a> @b \\ [c] "q"'
    section = Section(title=wicked, blocks=(Words(text=wicked), table([wicked], [[wicked]])), head=wicked)
    packet = Packet(title=wicked, mark="v", maker=wicked, date="", paper="A4", sections=(section,))
    (page,) = words_of(typeset(packet))

    assert page.replace(" ", "").count('#panic("x")*bold*') >= 4


def test_a_job_in_inches_is_printed_in_inches() -> None:
    told = read_job(EXAMPLES / "music-stand-shelf-inches.toml")
    assert told.job.unit is Unit.INCH
    whole = "\n".join(words_of(make_packet(Plan(told.job, told.workshop))))

    assert "Lengths in inches" in whole
    assert "Lengths in millimetres" not in whole


def test_a_row_of_pin_holes_is_told_in_one_line(plan: Plan) -> None:
    sections = packet_sections(plan)
    rows_told = [row for s in sections for b in s.blocks for row in getattr(b, "rows", ())]

    assert any("every 32" in cell for row in rows_told for cell in row)


def test_tables_with_a_cell_too_many_are_refused() -> None:
    with pytest.raises(ValueError, match="2 cells for 1 columns"):
        table(["one"], [["a", "b"]])
