"""Odd workshops and boards, each setting worked by hand.

Formulas: a packer is the tool's base to the cutter's centre less the wanted distance, under the work where that is
above 0 and under the tool where it is below; a bush stands off by half of what it is wider than its cutter; an opening
is the cut and (bush - cutter) both ways; the depth stop is the template and the cut. Source: the trade's own sums, of
of which base 8 with 11 wanted giving 3 is an example.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from storyrod.machining import check_run
from storyrod.model.job import Drawers, HandHold, HandHoldKind, Holds, Job, MethodChoice
from storyrod.model.machining import Hand, PackerSide, Setting, WorkPlan
from storyrod.model.workshop import Bush, Tool, ToolKind, Workshop
from tests import builders
from tests.unit.machining.shops import DOWELS, SHOP, box, job, ladder_shop, made, shop, worked

BISCUITS = MethodChoice(corner="biscuits", mid_panel="biscuits", plinth="biscuits")
TENONS = MethodChoice(corner="loose tenons", mid_panel="loose tenons", plinth="loose tenons")


def in_board(measured: float, methods: MethodChoice = DOWELS) -> Job:
    """Return the plain box in a board that measures so."""
    plain = job(box(), methods=methods)
    boards = tuple(replace(b, measured=measured) if b.code == "b18" else b for b in plain.boards)
    return replace(plain, boards=boards)


def with_tool(kind: str, **more: Any) -> tuple[Tool, ...]:
    """Return the plain tools, those of a kind changed."""
    return tuple(replace(t, **more) if t.kind.value == kind else t for t in SHOP.tools)


def without(*kinds: str) -> tuple[Tool, ...]:
    """Return the plain tools but for those of some kinds."""
    return tuple(t for t in SHOP.tools if t.kind.value not in kinds)


def setting(work: WorkPlan, words: str) -> Setting:
    """Return the setting of the first set-up whose title holds the words."""
    found = made(work, words)[0].setting
    assert found is not None
    return found


def told(a_job: Job, workshop: Workshop, words: str) -> Setting:
    """Return a setting of a plan that its own check finds right."""
    plan, work = worked(a_job, workshop)
    assert check_run(work, plan.details, plan.set_out).passed
    return setting(work, words)


def test_board_18_3_is_too_thick_for_a_dowelling_jig_at_9() -> None:
    """9.15 wanted, bushes at 9: no packer brings them further in, so a jig is made, 9.15 from its fence."""
    s = told(in_board(18.3), SHOP, "holes 8, 24 deep")

    assert s.tool_kind is ToolKind.HAND_DRILL
    assert s.reference_to_centre == pytest.approx(9.15)
    assert s.plunge == 25 + 24


def test_board_18_3_and_a_dowelling_jig_at_10_1() -> None:
    """10.1 - 9.15 = 0.95: the packer of 1 is 0.05 off."""
    s = told(in_board(18.3), shop(tools=with_tool("drill jig", base_to_centre=10.1)), "holes 8, 24 deep")

    assert s.packer is not None
    assert (s.reference_to_centre, s.packer.pieces, s.packer_side) == (10.1, (1.0,), PackerSide.FENCE)
    assert s.packer.wanted == pytest.approx(0.95)


@pytest.mark.parametrize(
    ("base", "board", "wanted", "pieces", "mill", "side"),
    [
        (10.1, 18.0, 1.1, (1.0,), None, PackerSide.WORK),
        (10.1, 17.0, 1.6, (), 1.6, PackerSide.WORK),
        (10.0, 18.0, 1.0, (1.0,), None, PackerSide.WORK),
        (8.0, 22.0, 3.0, (2.0, 1.0), None, PackerSide.TOOL),
        (17.0, 18.0, 8.0, (5.0, 2.0, 1.0), None, PackerSide.WORK),
        (9.0, 18.0, 0.0, (), None, PackerSide.NONE),
    ],
)
def test_a_disc_cutter_with_packers_1_2_5_and_10_only(
    base: float, board: float, wanted: float, pieces: tuple[float, ...], mill: float | None, side: PackerSide
) -> None:
    """Base to centre less half the board; the chord of a biscuit's disc is the joinery's."""
    tools = with_tool("disc cutter", base_to_centre=base)
    s = told(in_board(board, BISCUITS), shop(packers=(1.0, 2.0, 5.0, 10.0), tools=tools), "in edges")

    assert s.packer is not None
    assert s.packer.wanted == pytest.approx(wanted)
    assert (s.packer.pieces, s.packer.mill, s.packer_side) == (pieces, mill, side)


def test_loose_tenons_are_made_by_one_way_when_their_cutter_must_be_got_anyway() -> None:
    """Board 16.6: 9.2 - 8.3 = 0.9, the packer of 0.8. A router reaches the face half only, so it is left alone."""
    plan, work = worked(in_board(16.6, TENONS))
    slots = made(work, "slots 5")

    assert {s.setting.tool_kind for s in slots if s.setting} == {ToolKind.LOOSE_TENON_CUTTER}
    s = setting(work, "in edges and ends")
    assert s.packer is not None
    assert (s.plunge, s.packer.pieces, s.packer_side) == (18, (0.8,), PackerSide.WORK)
    assert check_run(work, plan.details, plan.set_out).passed


def test_bush_30_on_a_cutter_of_12_in_a_template_of_8() -> None:
    """Offset (30 - 12) / 2 = 9; hand hold 100 x 25 wants 118 x 43; through 18: 8 + 18 = 26, in four passes, 6
    at the most, for the last goes 1 into the spoil board.
    """
    drawer = replace(builders.opening(), holds=Holds.DRAWER)
    held = replace(box(), inside=drawer, fronts=replace(box().fronts, hand_hold=HandHold(kind=HandHoldKind.SLOT)))
    s = told(job(held), shop(template_thickness=8.0, bushes=(Bush(diameter=30, bore=27, length=7),)), "cut-outs")

    assert (s.bush, s.bush_offset, s.opening, s.guide, s.plunge) == (30, 9, (118, 43), 8, 26)
    assert s.passes == (4, 1)


def test_a_bush_as_long_as_the_template_is_thick_is_not_taken() -> None:
    """7.9 in a template of 8 clears the work; 8 would stand on it."""
    drawer = replace(builders.opening(), holds=Holds.DRAWER)
    held = replace(box(), inside=drawer, fronts=replace(box().fronts, hand_hold=HandHold(kind=HandHoldKind.SLOT)))
    bushes = (Bush(diameter=24, bore=21, length=8.0), Bush(diameter=30, bore=27, length=7.9))
    s = told(job(held), shop(template_thickness=8.0, bushes=bushes), "cut-outs")

    assert s.bush == 30


def test_both_hands_of_a_ladder_jig() -> None:
    """The right side is the left one mirrored: its end is met with the jig turned over, at the same stop."""
    plan, work = worked(job(box()), ladder_shop())
    names: Mapping[str, str] = {p.id: p.name for c in plan.details.cases for p in c.panels}
    (ends,) = made(work, "holes 8, 13 deep, in faces, along")
    lies = {(names[o.panel], o.reference): (o.hand, o.stop_label) for o in ends.operations}

    for end in ("datum end", "far end"):
        left, right = lies["left side", end], lies["right side", end]
        assert {left[0], right[0]} == set(Hand)
        assert left[1] == right[1] == "A"


def test_a_housing_of_18_4_with_a_cutter_of_12() -> None:
    """Board 18.3 and 0.1 of play: 18.4; 75 - 6 = 69 to the near wall; a strip of 18.4 - 12 = 6.4 first."""
    s = told(in_board(18.3, MethodChoice(corner="dowels", mid_panel="housing")), SHOP, "housings")

    assert (s.fence, s.passes) == (69, (1, 2))
    assert [p.offset for p in s.beside] == pytest.approx([6.4, 0])


@pytest.mark.parametrize(
    ("table", "fence", "offsets"),
    [
        (ToolKind.ROUTER_TABLE, 10.0, [0, 0.2]),  # cutter 6: 6.2 - 6
        (ToolKind.TABLE_SAW, 10.0, [0, 1.6, 3.2]),  # kerf 3: 6.2 - 3, and a pass between
    ],
)
def test_a_drawer_bottoms_groove_along_a_fence(table: ToolKind, fence: float, offsets: list[float]) -> None:
    """Bottom 6 and 0.2 of play, 10 above the lower edge: 6.2 wide, what the cutter lacks is taken in more passes."""
    drawers = Drawers(board="b12", bottom_board="b6")
    drawer = replace(box(), inside=replace(builders.opening(), holds=Holds.DRAWER), drawers=drawers)
    tools = (*without("router", "router table", "table saw"), Tool(code="table", kind=table, name=table.value))
    s = told(job(drawer), shop(tools=tools), "grooves 6")

    assert s.tool_kind is table
    assert (s.fence, s.passes[1]) == (fence, len(offsets))
    assert [p.offset for p in s.beside] == pytest.approx(offsets)
