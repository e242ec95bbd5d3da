"""Wrong input is told at once, with a way out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.faults import Fault, JobError
from storyrod.model.job import SheetSize
from storyrod.model.sheet import CutRules, Part, StockSheet, Trim
from storyrod.model.workshop import RackOffcut
from storyrod.planning import Plan
from storyrod.sheets import lay_out
from tests.builders import board, case, job

SHEET = StockSheet(id="sheet", board="ply", length=2440, width=1220, price_cents=7800)
PART = Part(id="a", board="ply", length=700, width=400)
RULES = CutRules(kerf=3.2, trim=Trim.even(10))


def faults(parts: list[Part], stock: list[StockSheet], rules: CutRules = RULES) -> tuple[Fault, ...]:
    with pytest.raises(JobError) as caught:
        lay_out(parts, stock, rules, rounds=20)
    assert all(f.field and f.found and f.allowed and f.do for f in caught.value.faults)
    return caught.value.faults


def test_a_part_larger_than_every_sheet_names_the_nearest_that_would_do() -> None:
    told = faults([PART, replace(PART, id="long", length=2700, name="tall side")], [SHEET])

    assert [f.code for f in told] == ["part-too-large"]
    assert "tall side, 2700" in told[0].found
    assert "2420 × 1200" in told[0].allowed
    assert "3050 × 1220" in told[0].do


def test_a_part_larger_than_any_sold_says_how_large() -> None:
    told = faults([replace(PART, length=3500)], [SHEET])

    assert "at least 3520 × 420" in told[0].do


def test_a_strip_too_long_for_any_sheet_is_told_as_one() -> None:
    fronts = [replace(PART, id=f"f{i}", strip="fronts", strip_order=i) for i in range(4)]

    assert "the strip of fronts" in faults(fronts, [SHEET])[0].found


def test_too_little_stock_is_told_with_what_is_missing() -> None:
    told = faults([replace(PART, copies=30)], [replace(SHEET, copies=2)])

    assert told[0].code == "not-enough-stock"
    assert "m2 short" in told[0].found
    assert "Get at least 1 more of 2440 × 1220 mm." in told[0].do


def test_a_size_of_which_there_is_none_is_missing_stock_and_not_too_small() -> None:
    large = replace(PART, length=1300, width=700)
    alone = faults([large], [replace(SHEET, copies=0)])
    beside_another = faults([large], [replace(SHEET, copies=0), replace(SHEET, id="half", length=1220)])

    assert [f.code for f in (*alone, *beside_another)] == ["not-enough-stock", "not-enough-stock"]
    assert "2440 × 1220" in beside_another[0].do


def test_stock_large_enough_in_area_but_not_in_shape_names_the_parts_left_over() -> None:
    told = faults([replace(PART, length=1300, width=700, copies=2)], [replace(SHEET, copies=1)])

    assert told[0].code == "not-enough-stock"
    assert "1 parts left over (a)" in told[0].found


def test_an_offcut_listed_twice() -> None:
    rack = replace(SHEET, id="R1", offcut=True, length=600)
    told = faults([PART], [SHEET, rack, replace(rack, length=500)])

    assert [f.code for f in told] == ["offcut-twice"]
    assert "can be cut only once" in told[0].allowed


def test_trim_larger_than_the_sheet() -> None:
    """Told once, though every sheet of that size is too small."""
    told = faults([PART], [SHEET, replace(SHEET, id="other", board="mdf")], replace(RULES, trim=Trim.even(700)))

    assert [f.code for f in told] == ["trim-too-large"]
    assert told[0].field == "saw.trim"
    assert "less than the sheet, 2440 × 1220" in told[0].allowed


def test_an_offcut_of_the_rack_listed_twice_is_told_of_a_whole_plan() -> None:
    rack = (RackOffcut(code="R7", board="b18", length=900.0, width=400.0, field="rack[0]"),) * 2
    made = replace(job(case()), boards=(board(sheets=(SheetSize(length=2440.0, width=1220.0, price_cents=5000),)),))
    with pytest.raises(JobError) as caught:
        _ = Plan(made, replace(packaged_workshop(), rack=rack)).sheets

    (fault,) = caught.value.faults
    assert (fault.code, fault.field, fault.found) == ("offcut-twice", "rack[0]", "R7 listed 2 times")


def test_more_parts_than_are_laid_out_at_a_time() -> None:
    told = faults([replace(PART, copies=5001)], [SHEET])

    assert [f.code for f in told] == ["too-many-parts"]
    assert "two or more lots" in told[0].do


def test_no_sheet_for_a_board() -> None:
    told = faults([PART, replace(PART, id="b", board="mdf")], [SHEET])

    assert [f.code for f in told] == ["no-sheet"]
    assert "mdf" in told[0].found


@pytest.mark.parametrize("kerf", [-1.0, float("nan"), 25.0])
def test_a_kerf_that_is_none(kerf: float) -> None:
    assert [f.field for f in faults([PART], [SHEET], replace(RULES, kerf=kerf))] == ["saw.kerf"]


def test_zero_kerf_is_laid_out_with_a_word_about_it() -> None:
    plan = lay_out([PART], [SHEET], replace(RULES, kerf=0.0), rounds=5)

    assert any("kerf is 0" in note for note in plan.notes)


def test_parts_that_can_not_match_are_told() -> None:
    told = faults([replace(PART, strip="x"), replace(PART, id="b", strip="x", copies=2)], [SHEET])

    assert "numbers of copies" in told[0].found


def test_all_faults_come_at_once() -> None:
    bad = replace(PART, id="b", length=-1, copies=0)
    told = faults([PART, bad], [replace(SHEET, price_cents=-5)], replace(RULES, kerf=99))

    assert {f.field for f in told} == {"saw.kerf", "parts.b.length", "parts.b.copies", "stock.sheet.price"}
