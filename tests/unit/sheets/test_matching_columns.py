"""Fronts of matching grain in several columns: each column is a strip of its own, and each lies in its order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest

from storyrod.adapters.files import job_from_text
from storyrod.model.sheet import CutNode, CutRules, Part, StockSheet, Trim
from storyrod.planning import Plan
from storyrod.sheets import judge, lay_out, saw_list
from tests.places import EXAMPLES

UNIT = EXAMPLES / "hymn-book-unit.toml"
DRAWERS = """
[cases.drawers]
bottom = "applied"
bottom_board = "birch6"

[cases.inside]
columns = [
    { rows = [{ height = 130, holds = "drawer" }, { holds = "drawer" }] },
    { rows = [{ height = 160, holds = "drawer", parted = false }, { holds = "drawer" }] },
]
"""
BOARD = StockSheet(id="sheet", board="ply", length=2440, width=1220, price_cents=7800)


def matching(width: int, height: int) -> Plan:
    """Return the plan of the unit with two columns of drawers, at another size and with fronts that match."""
    text = UNIT.read_text(encoding="utf-8").split("[cases.inside]")[0] + DRAWERS
    text = text.replace('kind = "overlay"', 'kind = "overlay"\nmatching_grain = true')
    text = text.replace("width = 1040", f"width = {width}").replace("height = 590", f"height = {height}")
    read = job_from_text(text, name=UNIT.name, folder=UNIT.parent)
    return Plan(read.job, read.workshop)


@pytest.mark.parametrize("width", [700, 853, 1000, 1131, 1190])
@pytest.mark.parametrize("height", [480, 551, 620, 777])
def test_two_columns_of_matching_fronts_are_laid_out_at_every_size(width: int, height: int) -> None:
    plan = matching(width, height)
    strips = {p.strip for p in plan.parts if p.strip}

    laid = lay_out(plan.parts, plan.stock, plan.cut_rules, rounds=20)

    assert len(strips) == 2
    assert judge(laid, plan.parts, plan.stock, plan.cut_rules) == ()


def test_the_whole_plan_of_two_columns_is_laid_out_and_sawn() -> None:
    plan = matching(1000, 620)
    fronts = {p.id for p in plan.parts if p.strip}

    assert {p.part for s in plan.sheets.sheets for p in s.placements} >= fronts
    assert len(plan.saw_lists) == len(plan.sheets.boards)


@pytest.mark.parametrize("strips", [1, 2, 3, 5])
@pytest.mark.parametrize("copies", [1, 2])
def test_any_number_of_strips_beside_other_parts(strips: int, copies: int) -> None:
    """Every strip is a kind of its own, whatever stands before it: none is taken for another."""
    one = Part(id="side", board="ply", length=720, width=450, copies=2)
    fronts = [
        Part(
            id=f"f{s}{n}", board="ply", length=300 + 40 * s, width=120 + 10 * n, copies=copies, strip=f"s{s}",
            strip_order=n,
        )
        for s in range(strips)
        for n in range(2 + s % 2)
    ]  # fmt: skip
    rules = CutRules(kerf=3.2, trim=Trim.even(10))

    laid = lay_out([one, *fronts], [BOARD], rules, rounds=30)

    assert judge(laid, [one, *fronts], [BOARD], rules) == ()


@pytest.mark.parametrize("narrow", [0, 1, 2])
def test_a_front_less_broad_than_its_neighbours_is_cut_from_a_strip_of_its_own_name(narrow: int) -> None:
    """An inset front among overlay ones: each piece of the tree has one name, and the saw makes each cut once."""
    fronts = [
        Part(id=f"f{n}", board="ply", length=400, width=150, strip="s", strip_order=n, mark=f"A{n + 1}")
        for n in range(3)
    ]
    fronts[narrow] = replace(fronts[narrow], length=370)
    rules = CutRules(kerf=3.2, trim=Trim.even(10))

    laid = lay_out(fronts, [BOARD], rules, rounds=10)
    sheet = laid.boards[0].sheets[0]
    names = [node.name for node in _walk(sheet.tree)]
    saw = saw_list(laid.boards[0], rules, [BOARD])

    assert judge(laid, fronts, [BOARD], rules) == ()
    assert len(names) == len(set(names))
    made = [cut for step in saw.steps for cut in step.cuts]
    assert sorted(made) == sorted((sheet.name, cut.number) for cut in sheet.cuts)
    assert len({(c.piece, c.way, c.at, c.start) for c in sheet.cuts}) == len(sheet.cuts)


def _walk(node: CutNode) -> Iterator[CutNode]:
    yield node
    for child in node.children:
        yield from _walk(child)
