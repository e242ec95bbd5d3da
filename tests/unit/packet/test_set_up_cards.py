"""Set-up cards, read back from paper, page and plan.json: all three say the same."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterable, Iterator

import pytest
from pypdf import PdfReader

from storyrod.adapters.files import read_job
from storyrod.adapters.output import plan_document
from storyrod.adapters.packet._blocks import Block, Packet, Row, Section, Together
from storyrod.adapters.packet._machining import _counts, machining_sections
from storyrod.adapters.packet._sheets import sheet_sections
from storyrod.adapters.packet._typeset import typeset
from storyrod.measure.writing import METRIC
from storyrod.model.machining import Count, WorkStage
from storyrod.planning import Plan
from storyrod.telling.blocks import Column, Picture, Table, table
from storyrod.telling.lies import laid_for
from storyrod.telling.set_ups import setting_facts
from tests.places import EXAMPLES


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Return an example with housings by router, cut-outs and keyholes in templates, drills and pockets."""
    read = read_job(EXAMPLES / "low-units.toml")
    return Plan(read.job, read.workshop)


@pytest.fixture(scope="module")
def cards(plan: Plan) -> str:
    """Return the words of all cards on paper, breaks of lines made one space."""
    sections = [s for s in machining_sections(plan) if s.group == "Set-up cards"]
    packet = Packet(title="t", mark="v", maker="", date="", paper="A4", sections=tuple(sections))
    pages = PdfReader(io.BytesIO(typeset(packet))).pages
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))


def test_paper_and_plan_json_say_the_same_direction_and_cautions(plan: Plan, cards: str) -> None:
    told = json.loads(json.dumps(plan_document(plan)))["setups"]
    machined = [s for s in told if s["setting"]]
    assert machined
    for s in machined:
        assert f"Direction: {s['setting']['feed']['text']} {s['setting']['feed']['more']}" in cards
        for caution in s["cautions"]:
            assert caution["text"] in cards


def test_set_ups_on_one_card_have_each_its_row_and_its_work(plan: Plan) -> None:
    """They may differ in drill, depth and packer alone; whoever reads the row of one sets all that it asks for."""
    sections = {s.title.partition(":")[0]: s for s in machining_sections(plan)}
    by_id = {s.id: s for s in plan.machining.set_ups}
    shared = {ids: s for ids, s in sections.items() if " + " in ids}
    assert shared
    assert [i for ids in sections for i in ids.split(" + ")] == [s.id for s in plan.machining.set_ups if s.is_cut]

    for ids, section in shared.items():
        tables = [b for b in all_blocks(section.blocks) if isinstance(b, Table)]
        (rows,) = (t for t in tables if t.columns[0].head == "set-up")
        (work,) = (t for t in tables if t.columns[0].head == "mark")
        assert [r[0] for r in rows.rows] == ids.split(" + ")
        for row in rows.rows:
            one = by_id[row[0]]
            assert one.setting is not None
            facts = dict(setting_facts(one.setting, plan.machining, METRIC))
            assert {c.head: cell for c, cell in zip(rows.columns[2:], row[2:], strict=True)}.items() <= facts.items()
            assert not one.trial
            starts = [n for n, words in work.groups if words.startswith(f"{one.id}, ")]
            ends = [n for n, words in work.groups if n > starts[-1]]
            mine = work.rows[starts[0] : ends[0] if ends else len(work.rows)]
            assert sum(int(r[-2]) for r in mine) == one.cuts


def test_what_is_set_by_a_figure_is_large_on_every_card(plan: Plan) -> None:
    """Depth stop, fence, straight edge, pass and packer are read at arm's length; what is fetched once is not."""
    told: dict[bool, set[str]] = {True: set(), False: set()}
    for section in (s for s in machining_sections(plan) if s.group == "Set-up cards"):
        tables = [b for b in all_blocks(section.blocks) if isinstance(b, Table) and b.columns[0].head == "set"]
        assert [c.working for t in tables for c in t.columns] == [False, True]
        for n, row in enumerate(tables[0].rows):
            told[n not in tables[0].plain].add(row[0])

    assert told[True] >= {"depth stop", "fence", "straight edge"}
    assert told[True] <= {"depth stop", "fence", "straight edge", "packer", "pass 1", "pass 2"}
    assert not told[True] & told[False]


def all_blocks(blocks: Iterable[Block]) -> Iterator[Block]:
    for block in blocks:
        yield block
        if isinstance(block, Together):
            yield from all_blocks(block.blocks)
        if isinstance(block, Row):
            for cell in block.cells:
                yield from all_blocks(cell)


def test_large_figures_are_large_on_paper() -> None:
    """Of a column that is set by, a row that is only read stays at the size of the others."""
    column = Column(head="to", share=1.0, working=True)
    told = table(["set", column], [["tool", "wwwwwwww"], ["fence", "wwwwwwww"]], small=True, plain=(0,))
    section = Section(title="t", head="h", blocks=(told,))
    pdf = typeset(Packet(title="t", mark="v", maker="", date="", paper="A4", sections=(section,)))
    sizes: list[float] = []
    PdfReader(io.BytesIO(pdf)).pages[0].extract_text(
        visitor_text=lambda text, _cm, tm, _font, size: (
            sizes.append(round(size * abs(tm[0]), 1)) if "www" in text else None
        )
    )

    assert sizes == [10.5, 13.1]


def test_a_widened_housing_says_each_pass_on_its_card(plan: Plan, cards: str) -> None:
    """Low units: housings of 17.8 with a cutter of 12, so a strip of 5.8, which is to be milled."""
    housings = next(s for s in plan.machining.set_ups if s.title.startswith("housings"))
    assert housings.setting is not None
    facts = dict(setting_facts(housings.setting, plan.machining, METRIC))

    assert facts["pass 1"] == "far wall: a strip of 5.8 between straight edge and base"
    assert facts["pass 2"] == "near wall: base against the straight edge, no strip"
    assert "far wall: a strip of 5.8" in cards
    assert cards.index("far wall: a strip") < cards.index("near wall: base against")


def test_a_deep_cut_says_the_depth_stop_of_each_pass(plan: Plan) -> None:
    """A cut-out through 17.7 under a template of 12, cutter 12, 6 at most: three passes of 5.9, so 17.9, 23.8, 29.7."""
    cut_outs = next(s for s in plan.machining.set_ups if s.title.startswith("cut-outs"))
    assert cut_outs.setting is not None
    facts = dict(setting_facts(cut_outs.setting, plan.machining, METRIC))

    assert facts["passes"] == ("4, each deeper: 16.43, 20.85, 25.28, then 29.7 and into the spoil board")


def test_the_saw_s_lines_are_beside_the_saw_s_list(plan: Plan) -> None:
    sections = sheet_sections(plan)
    for section in sections[1:]:
        kinds = [type(b).__name__ for b in section.blocks]
        at = kinds.index("Warning_")
        assert kinds[at + 1] == "Table"
        warned = section.blocks[at]
        assert "rail clamped" in str(warned)
    (every,) = (b for b in sections[0].blocks if type(b).__name__ == "Warning_")
    assert "rail clamped" not in str(every)


def test_a_panel_of_a_case_s_is_no_set_up_on_the_count_sheet() -> None:
    counts = [Count(about="S.side-left", name="S1 left side", wanted=24, planned=24)]

    assert _counts(counts).rows[0][:2] == ("", "S1 left side")
    assert _counts(counts, numbered=True).rows[0][0] == "S.side-left"


def test_every_card_shows_how_its_panels_lie(plan: Plan) -> None:
    """One picture a way to lie; where there are several, each mark stands under just one for each way it is laid."""
    cards = {s.short: s for s in machining_sections(plan) if s.group == "Set-up cards"}
    by_id = {s.id: s for s in plan.machining.set_ups}
    panels = {p.id: p for c in plan.details.cases for p in c.panels}
    for ids, card in cards.items():
        pictures = [b.drawing for b in all_blocks(card.blocks) if isinstance(b, Picture)]
        lies = [d for d in pictures if d.title == "How it lies"]
        set_ups = [by_id[i] for i in ids.split(" + ")]
        if any(s.stage is WorkStage.MACHINE for s in set_ups):
            assert lies
        assert lies == list(laid_for(set_ups, panels))


def test_twins_lie_the_other_way_round(plan: Plan) -> None:
    """Left and right side of a case, worked on the same face with the same edge near, have their datum ends apart."""
    panels = {p.id: p for c in plan.details.cases for p in c.panels}
    keyholes = next(s for s in plan.machining.set_ups if "keyholes" in s.title and "along ends" in s.title)
    told = {d.alt for d in laid_for([keyholes], panels)}
    assert len(told) == 2
    (left,) = (words for words in told if "datum end at the left" in words)
    (right,) = (words for words in told if "datum end at the right" in words)
    assert "D2, U2" in left
    assert "D1, U1" in right


def test_no_braces_are_printed(cards: str) -> None:
    """A gap of a sentence that was never filled."""
    assert "{" not in cards
