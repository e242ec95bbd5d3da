"""Whole cases for tests of pictures: built, joined and set out by the stages themselves."""

from __future__ import annotations

from functools import cache

from storyrod import carcass, joinery, setout
from storyrod.adapters.files import packaged_workshop
from storyrod.model.detail import Choices, DetailedCase, Details
from storyrod.model.job import Back, BackKind, Drawers, FrontKind, Fronts, HandHold, HandHoldKind, MethodChoice, Plinth
from storyrod.model.mark import SetOut
from tests import builders

BOARDS = ("b18", "b12", "b6")


@cache
def folder_cabinet(corner: str = "dowels", mid_panel: str = "dowels") -> tuple[Details, SetOut]:
    """Two columns on a plinth: three drawers, and a door with two loose shelves; 30 panels."""
    case = builders.case(
        "A",
        width=900.0,
        height=900.0,
        depth=420.0,
        plinth=Plinth(height=80.0, setback=50.0),
        back=Back(kind=BackKind.REBATED, board="b6"),
        fronts=Fronts(kind=FrontKind.OVERLAY, hand_hold=HandHold(kind=HandHoldKind.SLOT)),
        inside=builders.columns(
            builders.rows(builders.drawer(140.0), builders.drawer(180.0), builders.drawer()),
            builders.door(loose_shelves=2, hinged="right"),
        ),
        drawers=Drawers(board="b12", bottom_board="b6"),
    )
    methods = MethodChoice(corner=corner, mid_panel=mid_panel, plinth="dowels")
    job = builders.job(case, methods=methods)
    workshop = packaged_workshop()
    details = joinery.detail(joinery.join(carcass.build(job, workshop), workshop), Choices())
    return details, setout.set_out(details)


def detailed() -> DetailedCase:
    """The folder cabinet's case."""
    return folder_cabinet()[0].cases[0]
