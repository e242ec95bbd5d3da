"""The judge finds each thing put wrong on purpose."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.model.panel import Grain
from storyrod.model.sheet import CutRules, CuttingPlan, Part, Placement, SheetPlan, StockSheet, Trim
from storyrod.sheets import judge, lay_out

RULES = CutRules(kerf=3.0, trim=Trim.even(10))
STOCK = [StockSheet(id="s", board="ply", length=1000, width=600, price_cents=100, copies=2)]
PARTS = [
    Part(id="a", board="ply", length=400, width=200, copies=3),
    Part(id="b", board="ply", length=300, width=250, grain=Grain.FREE),
]


@pytest.fixture(scope="module")
def plan() -> CuttingPlan:
    made = lay_out(PARTS, STOCK, RULES, rounds=30)
    assert len(made.sheets) == 1
    return made


def with_sheet(plan: CuttingPlan, sheet: SheetPlan) -> CuttingPlan:
    return replace(plan, boards=(replace(plan.boards[0], sheets=(sheet,)),))


def with_placed(plan: CuttingPlan, *placed: Placement) -> CuttingPlan:
    return with_sheet(plan, replace(plan.sheets[0], placements=placed))


def codes(plan: CuttingPlan) -> set[str]:
    return {f.rule for f in judge(plan, PARTS, STOCK, RULES)}


def place(part: str, copy: int, x: float, y: float, *, turned: bool = False) -> Placement:
    size = {"a": (400.0, 200.0), "b": (300.0, 250.0)}[part]
    length, width = size[::-1] if turned else size
    return Placement(part=part, copy=copy, x=x, y=y, length=length, width=width, turned=turned)


GOOD = (place("a", 1, 10, 10), place("a", 2, 413, 10), place("a", 3, 10, 213), place("b", 1, 413, 213))


def test_the_plan_made_is_right(plan: CuttingPlan) -> None:
    assert codes(plan) == set()


def test_hand_laid_places_are_right_but_the_tree_is_not_theirs(plan: CuttingPlan) -> None:
    assert codes(with_placed(plan, *GOOD)) <= {"tree", "offcut", "cut"}


@pytest.mark.parametrize(
    ("placed", "code"),
    [
        ((*GOOD[:3],), "missing"),
        ((*GOOD, GOOD[0]), "twice"),
        ((*GOOD, place("a", 4, 10, 416)), "stranger"),
        ((*GOOD[:3], place("b", 1, 412.99, 213)), "kerf"),
        ((*GOOD[:3], place("b", 1, 400, 213)), "overlap"),
        ((*GOOD[:3], place("b", 1, 690.01, 213)), "trim"),
        ((place("a", 1, 9.99, 10), *GOOD[1:]), "trim"),
        ((place("a", 1, 10, 10, turned=True), *GOOD[1:3]), "grain"),
        ((replace(GOOD[0], length=399.9), *GOOD[1:]), "size"),
    ],
)
def test_a_thing_put_wrong_is_found(plan: CuttingPlan, placed: tuple[Placement, ...], code: str) -> None:
    assert code in codes(with_placed(plan, *placed))


def test_a_pinwheel_does_not_come_apart() -> None:
    """Four parts round a gap: no overlap, room for the kerf, and yet no cut goes through."""
    wheel = [
        Part(id="w", board="ply", length=600, width=300, copies=2),
        Part(id="h", board="ply", length=300, width=600, copies=2),
    ]
    stock = [StockSheet(id="s", board="ply", length=1000, width=1000)]
    rules = CutRules(kerf=3.0, trim=Trim())
    plan = lay_out(wheel, [replace(stock[0], length=3000)], rules, rounds=5)
    spots = (("w", 1, 0, 0), ("h", 1, 603, 0), ("w", 2, 303, 603), ("h", 2, 0, 303))
    size = {"w": (600.0, 300.0), "h": (300.0, 600.0)}
    placed = tuple(
        Placement(part=p, copy=c, x=float(x), y=float(y), length=size[p][0], width=size[p][1]) for p, c, x, y in spots
    )
    sheet = replace(plan.sheets[0], placements=placed, length=1000)
    told = judge(with_sheet(plan, sheet), wheel, stock, rules)

    assert "not through" in {f.rule for f in told}
    assert not {"overlap", "kerf", "missing"} & {f.rule for f in told}


def test_an_offcut_used_twice_is_found(plan: CuttingPlan) -> None:
    stock = [replace(STOCK[0], offcut=True, copies=None)]
    twice = replace(plan, boards=(replace(plan.boards[0], sheets=(plan.sheets[0], plan.sheets[0])),))

    assert "too many sheets" in {f.rule for f in judge(twice, PARTS, stock, RULES)}


def test_a_cut_through_a_part_is_found(plan: CuttingPlan) -> None:
    sheet = plan.sheets[0]
    cut = next(c for c in sheet.cuts if not c.trim)
    moved = tuple(replace(c, at=c.at - 1) if c is cut else c for c in sheet.cuts)

    assert "cut" in codes(with_sheet(plan, replace(sheet, cuts=moved)))


def test_an_offcut_larger_than_it_is_is_found(plan: CuttingPlan) -> None:
    sheet = plan.sheets[0]
    grown = tuple(replace(o, length=o.length + 5) for o in sheet.offcuts)

    assert "offcut" in codes(with_sheet(plan, replace(sheet, offcuts=grown)))


def test_strips_out_of_order_are_found() -> None:
    fronts = [Part(id=f"f{i}", board="ply", length=300, width=100, strip="x", strip_order=i) for i in range(3)]
    plan = lay_out(fronts, STOCK, RULES, rounds=5)
    sheet = plan.sheets[0]
    a, b, *rest = sheet.placements
    swapped = replace(sheet, placements=(replace(a, y=b.y), replace(b, y=a.y), *rest))

    assert judge(plan, fronts, STOCK, RULES) == ()
    assert "strip" in {f.rule for f in judge(with_sheet(plan, swapped), fronts, STOCK, RULES)}
