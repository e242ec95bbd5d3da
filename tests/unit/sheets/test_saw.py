"""The saw's list: every cut once, in an order that can be cut, settings grouped, heavy pieces told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.measure.length import Unit
from storyrod.measure.writing import LengthWriter
from storyrod.model.bench_lines import LineKind
from storyrod.model.panel import Surface
from storyrod.model.sheet import (
    Cut,
    CutRules,
    CuttingPlan,
    EdgeMark,
    Part,
    SawKind,
    SheetPlan,
    StepKind,
    StockSheet,
    Trim,
    Way,
)
from storyrod.sheets import lay_out, part_labels, saw_list, what_if
from tests.unit.sheets.jobs import random_job

RULES = CutRules(kerf=3.2, trim=Trim.even(10))
SHEET = StockSheet(id="ply 18", board="ply", length=2440, width=1220, price_cents=7800, mass_kg_m2=12.24)
PARTS = [
    Part(id="side", mark="A1", board="ply", length=720, width=560, copies=4),
    Part(id="shelf", mark="A2", board="ply", length=764, width=540, copies=3),
    Part(id="rail", mark="A3", board="ply", length=764, width=100, copies=4),
]


@pytest.fixture(scope="module")
def plan() -> CuttingPlan:
    return lay_out(PARTS, [SHEET], RULES, rounds=200)


@pytest.mark.parametrize("number", range(12))
def test_every_cut_is_made_once_and_only_on_a_piece_in_hand(number: int) -> None:
    parts, stock, rules = random_job(number)
    board = lay_out(parts, stock, rules, rounds=20).boards[0]
    told = saw_list(board, rules, stock)
    made = [cut for step in told.steps for cut in step.cuts]

    assert sorted(made) == sorted((s.name, c.number) for s in board.sheets for c in s.cuts)
    for laid in board.sheets:
        assert_in_hand(laid, [n for name, n in made if name == laid.name], rules.kerf)


def assert_in_hand(sheet: SheetPlan, numbers: list[int], kerf: float) -> None:
    """Follow the pieces in hand: each cut must run right through one that earlier cuts have left."""
    cuts = {c.number: c for c in sheet.cuts}
    pieces = [(0.0, 0.0, sheet.length, sheet.width)]
    for number in numbers:
        cut = cuts[number]
        hit = [p for p in pieces if runs_through(cut, p, kerf)]
        assert len(hit) == 1, f"cut {number} does not run through one piece"
        x, y, length, width = hit[0]
        pieces.remove(hit[0])
        if cut.way is Way.CROSSCUT:
            low, high = (x, y, cut.at - x, width), (cut.at + kerf, y, x + length - cut.at - kerf, width)
        else:
            low, high = (x, y, length, cut.at - y), (x, cut.at + kerf, length, y + width - cut.at - kerf)
        pieces += [p for p in (low, high) if min(p[2:]) > 0.001]
    parts = sorted((p.x, p.y, p.length, p.width) for p in sheet.placements)
    assert all(any(max(abs(a - b) for a, b in zip(p, q, strict=True)) < 0.02 for q in pieces) for p in parts)


def runs_through(cut: Cut, piece: tuple[float, float, float, float], kerf: float) -> bool:
    x, y, length, width = piece
    if cut.way is Way.RIP:
        x, y, length, width = y, x, width, length
    inside = x - kerf <= cut.at <= x + length + 0.01
    return inside and abs(cut.start - y) < 0.02 and abs(cut.end - y - width) < 0.02


def test_one_step_is_one_setting(plan: CuttingPlan) -> None:
    told = saw_list(plan.boards[0], RULES, [SHEET])
    cuts = {(s.name, c.number): c for s in plan.sheets for c in s.cuts}

    for step in told.steps:
        if step.kind is not StepKind.TRIM:
            assert {(cuts[c].way, cuts[c].setting) for c in step.cuts} == {(step.way, step.setting)}
    assert told.settings == sum(s.kind is not StepKind.TRIM for s in told.steps)


def test_a_sheet_is_trimmed_before_it_is_parted(plan: CuttingPlan) -> None:
    trims = {(s.name, c.number) for s in plan.sheets for c in s.cuts if c.trim}
    made = [cut for step in saw_list(plan.boards[0], RULES, [SHEET]).steps for cut in step.cuts]

    for sheet in plan.sheets:
        own = [cut in trims for cut in made if cut[0] == sheet.name]
        assert own == sorted(own, reverse=True)


@pytest.mark.parametrize("number", range(12))
def test_every_part_is_labelled_once_as_it_comes_free(number: int) -> None:
    """Also the part that is what is left when all others are off."""
    parts, stock, rules = random_job(number)
    board = lay_out(parts, stock, rules, rounds=20).boards[0]
    labels = [m for s in saw_list(board, rules, stock).steps for m in s.labels]
    wanted = [f"{p.id} no. {c}" if p.copies > 1 else p.id for p in parts for c in range(1, p.copies + 1)]

    assert sorted(labels) == sorted(wanted)


def test_one_setting_serves_several_sheets() -> None:
    """Two different sheets that share their rip: it is made once for both, and crosscuts follow."""
    parts = [replace(PARTS[0], copies=2), Part(id="long", board="ply", length=2300, width=560, copies=3)]
    board = lay_out(parts, [SHEET], RULES, rounds=100).boards[0]
    told = saw_list(board, RULES, [SHEET])

    assert told.fewest
    assert told.settings <= board.figures.settings
    assert sum(1 for s in told.steps if (s.way, s.setting) == (Way.RIP, 560.0)) == 1


def test_a_heavy_sheet_is_broken_down_before_the_table_saw(plan: CuttingPlan) -> None:
    """12.24 kg/m2: a full sheet has 36.4 kg, more than the 20 of one person."""
    table = replace(RULES, saw=SawKind.TABLE)
    told = saw_list(plan.boards[0], table, [SHEET])
    first = next(s for s in told.steps if s.kind is StepKind.BREAK_DOWN)

    assert first.two_people
    assert 20 < first.mass_kg <= 36.5
    assert "two people" in first.say
    assert "track saw" in first.say
    assert told.steps[0].mass_kg == pytest.approx(2.44 * 1.22 * 12.24, abs=0.1)


def test_the_list_carries_the_lines_of_its_saw(plan: CuttingPlan) -> None:
    for saw, own, other in ((SawKind.TABLE, "Riving knife", "rail"), (SawKind.TRACK, "rail clamped", "riving knife")):
        lines = saw_list(plan.boards[0], replace(RULES, saw=saw), [SHEET]).cautions
        words = " ".join(c.text for c in lines)
        assert lines[-1].kind is LineKind.REMINDER
        assert own.lower() in words.lower()
        assert other not in words.lower()
        assert {LineKind.UNPLUG, LineKind.EYES_EARS, LineKind.DUST, LineKind.FREED_WASTE} <= {c.kind for c in lines}


def test_where_to_stand_at_a_table_saw_is_said(plan: CuttingPlan) -> None:
    lines = saw_list(plan.boards[0], replace(RULES, saw=SawKind.TABLE), [SHEET], LengthWriter(Unit.INCH)).cautions
    (kickback,) = (c.text for c in lines if c.kind is LineKind.KICKBACK)

    assert "Stand out of the line of the piece" in kickback
    assert any('last 12" of every part' in c.text for c in lines)


def test_a_light_board_wants_one_person(plan: CuttingPlan) -> None:
    light = replace(SHEET, mass_kg_m2=1.0)

    assert not any(s.two_people for s in saw_list(plan.boards[0], RULES, [light]).steps)


def test_offcuts_worth_keeping_are_named_and_of_size(plan: CuttingPlan) -> None:
    offcuts = [o for s in plan.sheets for o in s.offcuts]
    kept = [o for o in offcuts if o.keep]

    assert len({o.name for o in offcuts}) == len(offcuts)
    assert all(max(o.length, o.width) >= 300 and min(o.length, o.width) >= 100 for o in kept)
    assert all(o.length < 300 or o.width < 100 for o in offcuts if not o.keep and o.length >= o.width)
    assert plan.boards[0].figures.kept_m2 == pytest.approx(sum(o.length * o.width for o in kept) / 1e6)


def test_labels_tell_size_edges_and_face() -> None:
    edge = EdgeMark(surface=Surface.FACE_EDGE, edging="birch tape")
    part = replace(PARTS[0], finished=(720, 561), edges=(edge,), face_mark="face side up", name="left side")
    label = part_labels(lay_out([part], [SHEET], RULES, rounds=2), [part])[0]

    assert (label.mark, label.name, label.copy, label.copies) == ("A1", "left side", 1, 4)
    assert label.size == (720.0, 561.0, 720.0, 560.0)
    assert label.edged == ("face edge: birch tape",)
    assert label.code == "side#1"


def test_what_if_asks_about_kerf_sizes_and_rack() -> None:
    small = replace(SHEET, id="half", length=1220, price_cents=4100)
    rack = replace(SHEET, id="R1", length=800, width=600, offcut=True, price_cents=None)
    stock = [SHEET, small, rack]
    board = lay_out(PARTS, stock, RULES, rounds=200).boards[0]
    told = {w.question: w for w in what_if(board, PARTS, stock, RULES, rounds=200)}

    assert set(told) == {"1 mm less kerf", "only ply 18 bought", "only half bought", "without the rack's offcuts"}
    assert told["only half bought"].cents_less <= 0
    assert all(w.cents == board.figures.cents - w.cents_less for w in told.values())


def test_what_if_asks_about_sizes_of_the_trade_where_one_is_bought() -> None:
    """Three parts of 1000 x 1200 take two sheets of 2440 x 1220, but one of 3050 x 1525 or 2800 x 2070."""
    parts = [replace(PARTS[0], length=1000, width=1200, copies=3)]
    board = lay_out(parts, [SHEET], RULES, rounds=50).boards[0]
    told = what_if(board, parts, [SHEET], RULES, rounds=50)
    best, second = [w for w in told if w.size is not None]

    assert best.question == "sheets of 3050 × 1220 mm as well, at the same price by area"
    assert best.cents == round(7800 * 3050 / 2440)
    assert (best.sheets, best.sheets_less) == (1, 1)
    assert best.cents_less == 15600 - best.cents >= second.cents_less


@pytest.mark.parametrize("copies", [3, 8, 14])
def test_what_would_cost_more_is_not_taken(copies: int) -> None:
    """A second size, or less kerf, cannot make a plan dearer: the plan itself would still do."""
    parts = [replace(p, copies=copies) for p in PARTS]
    board = lay_out(parts, [SHEET], RULES, rounds=150).boards[0]
    told = [w for w in what_if(board, parts, [SHEET], RULES, rounds=0) if w.size or "kerf" in w.question]

    assert any(w.size for w in told)
    assert all(w.cents_less >= 0 for w in told)
