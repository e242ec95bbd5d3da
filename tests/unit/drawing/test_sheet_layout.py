"""Sheets drawn as they are cut: every part at its place, every cut numbered, nothing told by colour alone."""

from __future__ import annotations

from collections import Counter
from functools import cache
from random import Random

import pytest

from storyrod.drawing import Circle, Drawing, Figures, Hatch, Path, Tint, bounds_of, sheet_layout, short_name
from storyrod.drawing._sheet_layout import CUTS, OFFCUTS, PARTS, WASTE
from storyrod.drawing._sheet_layout import NUMBERS as NUMBERS_ON_CUTS
from storyrod.drawing._types import text_box
from storyrod.measure.length import Unit
from storyrod.model.panel import Grain
from storyrod.model.sheet import CutRules, CuttingPlan, Part, SheetPlan, StockSheet
from storyrod.sheets import lay_out
from tests.unit.drawing.checks import check, groups_of, texts_of
from tests.unit.drawing.reading import faults_of, too_small
from tests.unit.sheets.jobs import random_job

NUMBERS = range(6)


@cache
def laid_out(number: int) -> tuple[list[Part], CutRules, CuttingPlan]:
    """Return a random job, laid out in a moment."""
    parts, stock, rules = random_job(number)
    return parts, rules, lay_out(parts, stock, rules, rounds=5)


def drawn(number: int, unit: float | None = None) -> list[tuple[SheetPlan, Drawing]]:
    """Return each sheet of a random job with its drawing."""
    parts, rules, plan = laid_out(number)
    return [(s, sheet_layout(s, parts, kerf=rules.kerf, unit=unit)) for s in plan.sheets]


def boxes(drawing: Drawing, layer: str) -> list[tuple[float, float, float, float]]:
    """Return the outlines on a layer as left, bottom, width, height, rounded to 0.001 mm."""
    paths = [p for p in drawing.flat() if isinstance(p, Path) and p.layer == layer and p.pen is not None and p.closed]
    found = [bounds_of((p,), 1.0) for p in paths]
    return sorted((round(b.left, 3), round(b.bottom, 3), round(b.width, 3), round(b.height, 3)) for b in found)


@pytest.mark.parametrize("number", NUMBERS)
def test_words_are_apart_whole_and_large_enough(number: int) -> None:
    for _, drawing in drawn(number):
        check(drawing)


@pytest.mark.parametrize("number", NUMBERS)
def test_every_part_is_outlined_at_its_place(number: int) -> None:
    for sheet, drawing in drawn(number):
        wanted = sorted((round(p.x, 3), round(p.y, 3), round(p.length, 3), round(p.width, 3)) for p in sheet.placements)
        assert boxes(drawing, PARTS) == wanted


@pytest.mark.parametrize("number", NUMBERS)
def test_every_cut_has_its_kerf_and_its_number(number: int) -> None:
    _, rules, _ = laid_out(number)
    for sheet, drawing in drawn(number):
        across = [min(w, h) for *_, w, h in boxes(drawing, CUTS)]
        assert across == pytest.approx([rules.kerf] * len(sheet.cuts), abs=1e-3)
        numbers = sorted(int(t.text) for t in texts_of(drawing) if t.layer == "CUT NUMBERS")
        assert numbers == [c.number for c in sheet.cuts]


@pytest.mark.parametrize("number", NUMBERS)
def test_no_leader_of_a_number_strikes_a_word_or_a_number_through(number: int) -> None:
    """Drawn small, so that many numbers stand away from their cuts."""
    found = 0
    for sheet, drawing in drawn(number, unit=24.0):
        marks = {p.id for p in laid_out(number)[0]} | {str(c.number) for c in sheet.cuts}
        words = [t for t in texts_of(drawing) if t.text.split()[0] in marks]
        lines = [p for p in drawing.flat() if isinstance(p, Path) and p.layer == NUMBERS_ON_CUTS and not p.closed]
        found += len(lines)
        for leader in lines:
            others = [text_box(t, drawing.unit) for t in words if t.at not in leader.points]  # it ends under its own
            assert [w for w in others if w.meets(bounds_of((leader,), 1.0))] == []
    assert found or number not in {0, 1, 2, 3}


@pytest.mark.parametrize("number", NUMBERS)
def test_the_cut_that_parts_the_sheet_has_a_second_ring(number: int) -> None:
    for sheet, drawing in drawn(number):
        rings = Counter(c.centre for c in drawing.flat() if isinstance(c, Circle) and c.pen is not None)
        (first,) = [c.number for c in sheet.cuts if not c.trim][:1] or [0]
        at = [t.at for t in texts_of(drawing) if t.layer == NUMBERS_ON_CUTS and t.text == str(first)]

        assert [centre for centre, count in rings.items() if count == 2] == at


def test_with_a_saw_s_list_its_steps_stand_on_the_cuts() -> None:
    parts, rules, plan = laid_out(0)
    sheet = plan.sheets[0]
    steps = {c.number: 100 + c.number // 2 for c in sheet.cuts}
    drawing = sheet_layout(sheet, parts, kerf=rules.kerf, steps=steps)

    numbers = sorted(int(t.text) for t in texts_of(drawing) if t.layer == "CUT NUMBERS")
    assert numbers == sorted(steps.values())


@pytest.mark.parametrize("number", NUMBERS)
def test_offcuts_and_waste_are_told_by_pattern(number: int) -> None:
    for sheet, drawing in drawn(number):
        hatches = [
            (p.layer, p.fill.hatch)
            for p in drawing.flat()
            if isinstance(p, Path) and p.fill is not None and p.layer in {OFFCUTS, WASTE} and p.pen is not None
        ]
        assert set(hatches) <= {(OFFCUTS, Hatch.SLANT), (WASTE, Hatch.CROSSED)}
        assert sum(layer == OFFCUTS for layer, _ in hatches) == sum(o.keep for o in sheet.offcuts)
        assert sum(layer == WASTE for layer, _ in hatches) == sum(not o.keep for o in sheet.offcuts)


def test_grain_arrows_only_where_a_part_asks_for_it() -> None:
    stock = [StockSheet(id="s", board="b", length=2000.0, width=1000.0, price_cents=100)]
    for grain, arrows in ((Grain.ALONG, 1), (Grain.FREE, 0)):
        parts = [Part(id="p", board="b", length=900.0, width=500.0, grain=grain)]
        (sheet,) = lay_out(parts, stock, rounds=2).sheets
        for has_grain in (True, False):
            drawing = sheet_layout(sheet, parts, kerf=3.0, grain=has_grain)
            shafts = [p for p in drawing.flat() if isinstance(p, Path) and p.layer == "GRAIN" and len(p.points) == 2]
            assert len(shafts) == arrows * has_grain


def test_the_mark_of_a_part_too_small_for_words_stands_outside_with_a_leader() -> None:
    parts = [Part(id="p", board="b", mark="A1", length=30.0, width=20.0)]
    stock = [StockSheet(id="s", board="b", length=2440.0, width=1220.0, price_cents=100)]
    (sheet,) = lay_out(parts, stock, rounds=2).sheets
    drawing = sheet_layout(sheet, parts, kerf=3.0)

    (mark,) = [t for t in texts_of(drawing) if t.text == "A1"]
    assert mark.at[1] > 1220.0
    dots = [c for c in drawing.flat() if isinstance(c, Circle) and c.layer == "WORDS"]
    assert [c.centre for c in dots] == [(10.0 + 15.0, 10.0 + 10.0)]


def test_a_thin_part_bears_its_mark_in_one_line_rather_than_outside() -> None:
    parts = [Part(id=f"p{n}", board="b", mark=f"A{n}", length=500.0, width=w) for n, w in ((1, 66.0), (2, 120.0))]
    stock = [StockSheet(id="s", board="b", length=2440.0, width=1220.0, price_cents=100)]
    (sheet,) = lay_out(parts, stock, rounds=2).sheets
    drawing = sheet_layout(sheet, parts, kerf=3.0)

    thin, wide = sorted((t for t in texts_of(drawing) if t.text[:2] in {"A1", "A2"}), key=lambda t: t.text)
    at = next(p for p in sheet.placements if p.part == "p1")
    assert at.x < thin.at[0] < at.x + at.length
    assert at.y < thin.at[1] < at.y + at.width
    assert thin.text == "A1  500 × 66"
    assert thin.height >= wide.height
    check(drawing)


def test_fractions_of_an_inch_are_large_enough_too() -> None:
    parts = [Part(id="p", board="b", mark="A1", length=900.1125, width=500.3)]
    stock = [StockSheet(id="s", board="b", length=2438.4, width=1219.2, price_cents=100)]
    (sheet,) = lay_out(parts, stock, rounds=2).sheets
    drawing = sheet_layout(sheet, parts, figures=Figures(unit=Unit.INCH))

    sizes = [t for t in texts_of(drawing) if "/" in t.text]
    assert sizes
    assert all(0.72 * t.height >= 2.5 for t in sizes)


@pytest.mark.parametrize("seed", [0, 1, 4])
def test_on_small_parts_nothing_lies_over_a_word(seed: int) -> None:
    """Small parts on a whole sheet, where marks and numbers of cuts crowd each other; the last had dots on words."""
    chance = Random(seed)
    count, longest = chance.randint(6, 26), chance.choice([120.0, 200.0, 350.0, 700.0])
    parts = [
        Part(
            id=f"p{n}",
            board="b",
            mark=f"{chance.choice('ABH')}{n + 1}",
            length=round(chance.uniform(30.0, longest), 1),
            width=round(chance.uniform(15.0, longest / 2), 1),
            grain=chance.choice([Grain.ALONG, Grain.FREE]),
            copies=chance.choice([1, 1, 2]),
        )
        for n in range(count)
    ]
    stock = [StockSheet(id="s", board="b", length=2440.0, width=1220.0, price_cents=100)]
    for sheet in lay_out(parts, stock, CutRules(kerf=3.0), rounds=2).sheets:
        drawing = sheet_layout(sheet, parts, kerf=3.0)

        assert (faults_of(drawing), too_small(drawing)) == ((), ())


def test_groups_name_each_part_to_the_page() -> None:
    parts, _, _ = laid_out(1)
    told = [g.id for _, d in drawn(1) for g in groups_of(d.items, "part")]

    assert sorted(told) == sorted(p.id for p in parts for _ in range(p.copies))


def test_pieces_are_called_by_short_names() -> None:
    assert short_name("ply-2", "ply-2") == "sheet"
    assert short_name("ply-2", "ply-2/S3") == "strip 3"
    assert short_name("ply-2", "ply-2/O1") == "offcut 1"
    assert short_name("ply-2", "A7") == "A7"


def of_tint(drawing: Drawing, tint: Tint) -> list[str]:
    """Return the ids of the parts of one tint."""
    found = []
    for group in groups_of(drawing.items, "part"):
        outline = group.items[0]
        assert isinstance(outline, Path)
        assert outline.fill is not None
        if outline.fill.tint is tint:
            found.append(group.id)
    return found


@pytest.mark.parametrize("number", NUMBERS)
def test_step_by_step_every_part_comes_off_once_and_stays_off(number: int) -> None:
    parts, rules, plan = laid_out(number)
    for sheet in plan.sheets:
        gone = 0
        for cut in sheet.cuts:
            drawing = sheet_layout(sheet, parts, kerf=rules.kerf, at_step=cut.number)
            check(drawing)
            assert len(of_tint(drawing, Tint.PAPER)) >= gone
            gone = len(of_tint(drawing, Tint.PAPER))
            numbers = [t.text for t in texts_of(drawing) if t.layer == "CUT NUMBERS"]
            assert numbers == [str(cut.number)]
            part = next((p for p in sheet.placements if f"{p.part} no. {p.copy}" == cut.gives), None)
            if part is not None:
                assert part.part in of_tint(drawing, Tint.CHOSEN)
        after = sheet_layout(sheet, parts, kerf=rules.kerf, at_step=len(sheet.cuts) + 1)
        if any(not c.trim for c in sheet.cuts):
            assert len(of_tint(after, Tint.PAPER)) == len(sheet.placements)


def test_cuts_of_one_step_are_shown_together() -> None:
    parts, rules, plan = laid_out(1)
    sheet = max(plan.sheets, key=lambda s: len(s.cuts))
    steps = {c.number: 1 + (n % 2) for n, c in enumerate(sheet.cuts)}
    first = sheet_layout(sheet, parts, kerf=rules.kerf, steps=steps, at_step=1)
    numbers = [t.text for t in texts_of(first) if t.layer == "CUT NUMBERS"]
    assert numbers == ["1"] * sum(1 for s in steps.values() if s == 1)
    assert "Being cut now" in first.alt
