"""Sheets in the packet: the saw's list gives every part once, figures add up, labels lie where the paper has them."""

from __future__ import annotations

import io
from collections import Counter
from dataclasses import replace
from functools import cache

import pytest
from pypdf import PdfReader

from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.adapters.log import cut_sheets_of
from storyrod.adapters.output._sheets import sheets_data
from storyrod.adapters.packet import make_labels
from storyrod.adapters.packet._blocks import Section
from storyrod.adapters.packet._labels import label_pages
from storyrod.adapters.packet._sheets import sheet_sections
from storyrod.adapters.packet._typeset import PAPERS
from storyrod.drawing import Group, bounds_of
from storyrod.model.job import SheetSize
from storyrod.model.workshop import RackOffcut
from storyrod.planning import Plan
from storyrod.telling.blocks import Picture, Table, Warning_, Words
from storyrod.telling.label_papers import CODES, LABEL_PAPERS, LabelPaper, paper_named, usual_paper
from storyrod.telling.sheets import steps_at_saw
from tests.builders import board, case, job
from tests.places import EXAMPLES
from tests.unit.drawing.checks import groups_of

JOBS = ("rehearsal-room.toml", "low-units.toml", "music-stand-shelf-inches.toml")
MM = 72 / 25.4


@cache
def planned(name: str) -> Plan:
    """Return the plan of an example."""
    read = read_job(EXAMPLES / name)
    return Plan(read.job, read.workshop)


def simple(**sheet: object) -> Plan:
    """Return one case of one board, whose sheet is as told."""
    size = replace(SheetSize(length=2440.0, width=1220.0, price_cents=5000), **sheet)  # type: ignore[arg-type]
    made = replace(job(case()), boards=(board(sheets=(size,)),))
    return Plan(made, replace(packaged_workshop(), rack=()))


def tables(section: Section) -> dict[str, Table]:
    """Return the tables of a section by their titles."""
    return {b.title: b for b in section.blocks if isinstance(b, Table)}


@pytest.mark.parametrize("name", JOBS)
def test_the_saw_s_list_gives_every_part_just_once(name: str) -> None:
    plan = planned(name)
    told: Counter[str] = Counter()
    for at, saw in zip(plan.sheets.boards, plan.saw_lists, strict=True):
        for step in steps_at_saw(plan, at, saw):
            for words in (*step.gives, *step.leaves):
                count, _, mark = words.rpartition(" × ")
                told[mark] += int(count or 1)
    wanted = Counter({p.mark: p.copies for p in plan.parts})

    assert {m: n for m, n in told.items() if m in wanted} == wanted


@pytest.mark.parametrize("name", JOBS)
def test_every_piece_in_hand_has_come_off_before(name: str) -> None:
    """Strips are named in hand only after a step that gave or left them."""
    plan = planned(name)
    for at, saw in zip(plan.sheets.boards, plan.saw_lists, strict=True):
        there = {s.name for s in at.sheets}
        for step in saw.steps:
            given = set(step.gives)
            assert {p for p in step.pieces if p not in there | given | rests(plan, at.board)} == set()
            there |= given


def rests(plan: Plan, code: str) -> set[str]:
    """Return the names of pieces that need no cut of their own: the last of each row."""
    found: set[str] = set()
    todo = [s.tree for s in plan.sheets.sheets if s.board == code]
    while todo:
        node = todo.pop()
        todo += node.children
        found |= {c.name for c in node.children[-1:]}
    return found


def test_there_is_a_section_for_each_board_with_every_layout() -> None:
    plan = planned("low-units.toml")
    first, *boards = sheet_sections(plan)

    assert [s.title for s in boards] == [f"Sheets of {plan.job.board(b.board).name}" for b in plan.sheets.boards]
    for section, at in zip(boards, plan.sheets.boards, strict=True):
        pictures = [b.drawing.id for b in section.blocks if isinstance(b, Picture)]
        assert pictures == [f"sheet.{s.name}" for s in at.sheets if not s.same_as]
    every = next(b for b in first.blocks if isinstance(b, Warning_))
    for section, saw in zip(boards, plan.saw_lists, strict=True):
        (own,) = (b for b in section.blocks if isinstance(b, Warning_))
        told = f"{' '.join(own.items)} {own.text} {every.text}"
        assert all(c.text in told for c in saw.cautions)
        assert "At every tool" in own.text
        assert any(c.text in f"{' '.join(own.items)} {own.text}" for c in saw.cautions)
    assert all(any(isinstance(b, Warning_) for b in section.blocks) for section in boards)


def test_figures_and_money_are_told() -> None:
    """600 x 720 x 400 of 18 mm board: one sheet at 50.00 holds two sides, top and base."""
    plan = simple()
    (row,) = tables(sheet_sections(plan)[0])[""].rows

    area = (2 * 720 * 400 + 2 * 564 * 400) / 1e6
    assert row[1:4] == ("1 of 2440 × 1220", f"{area:.2f}", f"{area / (2.44 * 1.22):.0%}")
    assert row[-1].startswith("50.00")


def test_without_a_price_no_money_is_told() -> None:
    (row,) = tables(sheet_sections(simple(price_cents=None))[0])[""].rows

    assert row[-1] == "no price"


def test_a_board_without_a_sheet_size_is_no_fault() -> None:
    made = replace(job(case()), boards=(board(sheets=()),))
    plan = Plan(made, packaged_workshop())
    (section,) = sheet_sections(plan)

    assert plan.sheets.boards == ()
    assert [b.text for b in section.blocks if isinstance(b, Words)] == [
        "No sheet size is given for board 18: nothing is laid out; see the cutting list."
    ]


def test_the_rack_comes_first_and_what_is_left_goes_back() -> None:
    rack = (RackOffcut(code="R7", board="b18", length=1200.0, width=900.0),)
    plan = simple()
    with_rack = Plan(plan.job, replace(plan.workshop, rack=rack))
    told = tables(sheet_sections(with_rack)[0])

    assert [
        row[0] for row in next(t for n, t in told.items() if n.startswith("Take these off the rack first")).rows
    ] == ["R7"]
    kept = next(t for title, t in told.items() if title.startswith("Offcuts worth keeping"))
    left = [o.name for s in with_rack.sheets.sheets for o in s.offcuts if o.keep]
    assert [row[0] for row in kept.rows] == [f"{name}-{with_rack.version[:4]}" for name in left]


def test_what_to_write_on_an_offcut_is_its_code_in_the_plan_and_on_the_rack() -> None:
    plan = simple()
    told = tables(sheet_sections(plan)[0])
    written = [row[0] for title, t in told.items() if title.startswith("Offcuts worth keeping") for row in t.rows]
    in_plan = [o["code"] for s in sheets_data(plan)["sheets"] for o in s["offcuts"] if o["keep"]]

    assert written
    assert written == in_plan == [o.code for o in cut_sheets_of(plan).left]


def test_sheets_cut_alike_are_drawn_once_and_counted_together() -> None:
    made = replace(job(case(count=12)), boards=(board(sheets=(SheetSize(length=1500.0, width=900.0),)),))
    plan = Plan(made, replace(packaged_workshop(), rack=()))
    (at,) = plan.sheets.boards
    twins = [s for s in at.sheets if s.same_as]
    steps = steps_at_saw(plan, at, plan.saw_lists[0])
    section = sheet_sections(plan)[1]

    assert twins
    assert sum(isinstance(b, Picture) for b in section.blocks) == len(at.sheets) - len(twins)
    assert sum(s.cuts for s in steps) == sum(len(s.cuts) for s in at.sheets)


@pytest.mark.parametrize("paper", LABEL_PAPERS, ids=lambda p: p.code)
def test_labels_lie_on_the_paper_apart(paper: LabelPaper) -> None:
    _, width, height = PAPERS[paper.paper]
    corners = list(paper.corners())

    assert len(corners) == paper.count
    for x, y in corners:
        assert 0 <= x <= width - paper.label.width + 0.01
        assert 0 <= y <= height - paper.label.height + 0.01
    assert paper.across >= paper.label.width
    assert paper.down >= paper.label.height
    # What is left over is the same on both sides, as it is on such papers.
    right = width - (corners[-1][0] + paper.label.width)
    assert right == pytest.approx(paper.left, abs=0.1)


@pytest.mark.parametrize("paper", LABEL_PAPERS, ids=lambda p: p.code)
def test_each_part_has_its_label_at_its_place(paper: LabelPaper) -> None:
    plan = planned("low-units.toml")
    used = 5
    pages = label_pages(plan, paper, used=used)
    labels = [(page, g) for page in pages for g in groups_of(page.items, "label")]
    _, _, height = PAPERS[paper.paper]
    places = list(paper.corners())

    assert [g.id for _, g in labels] == [f"label.{label.code}" for label in plan.part_labels]
    for n, (page, group) in enumerate(labels, start=used):
        x, y = places[n % paper.count]
        assert page is pages[n // paper.count]
        assert_within(group, x, height - y - paper.label.height, paper)


def assert_within(group: Group, left: float, bottom: float, paper: LabelPaper) -> None:
    inked = bounds_of(group.items, 1.0)
    assert left <= inked.left
    assert inked.right <= left + paper.label.width
    assert bottom <= inked.bottom
    assert inked.top <= bottom + paper.label.height


def test_labels_are_printed_on_their_paper() -> None:
    plan = planned("low-units.toml")
    pdf = PdfReader(io.BytesIO(make_labels(plan, paper_named("letter-30"))))

    assert len(pdf.pages) == -(-len(plan.part_labels) // 30)
    box = pdf.pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx((215.9 * MM, 279.4 * MM), abs=0.5)
    assert "1 of 2" in pdf.pages[0].extract_text()


def test_the_usual_label_paper_goes_with_the_job_s() -> None:
    assert [usual_paper(p).code for p in ("A4", "A3", "Letter")] == ["a4-24", "a4-24", "letter-30"]
    assert [paper_named(code).code for code in CODES] == list(CODES)
