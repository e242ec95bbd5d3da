"""Sides notched for a skirting board: whether case, back and plinth stand clear of it, and the notches themselves."""

from __future__ import annotations

from typing import Final

from storyrod.carcass._making import Making
from storyrod.carcass._shell import Shell
from storyrod.faults import WayOut
from storyrod.measure.space import PanelAxis, Point
from storyrod.measure.tolerance import EXACT
from storyrod.model.feature import CutOut
from storyrod.model.job import BackKind, Skirting
from storyrod.model.obstacles import SKIRTING
from storyrod.model.panel import Role, Surface

MOST_OF_DEPTH: Final = 0.5
"""A notch takes no more of a side's depth than this: what is left stands on the floor; common practice, no source."""

MOST_OF_HEIGHT: Final = 0.5
"""A notch takes no more of a case's height than this; common practice, no source."""


def check_skirting(making: Making, shell: Shell) -> None:
    """Note why a case cannot go over its skirting board as it is written."""
    case, skirting = making.case, making.case.skirting
    if skirting is None:
        return
    if case.hung is not None:
        making.fault(
            "skirting-hung",
            skirting.field,
            found="a skirting board behind a case that hangs on a wall",
            allowed="a skirting board, or a case that hangs",
            do="Leave the skirting board out: a case that hangs is above it.",
            ways=(WayOut(field="", value=None), WayOut(field=case.hung.field, value=None)),
        )
    _check_reach(making, shell, skirting)
    _check_back(making, shell)


def _check_reach(making: Making, shell: Shell, skirting: Skirting) -> None:
    """Note a notch that leaves too little of a side."""
    case = making.case
    deep, high = shell.side_depth * MOST_OF_DEPTH, case.height * MOST_OF_HEIGHT
    off_wall = case.worktop.back if case.worktop is not None else 0.0
    if case.clear_of_wall > deep + EXACT:
        most = deep + off_wall - skirting.clearance
        making.fault(
            "skirting-size",
            f"{skirting.field}.depth",
            found=f"{making.mm(skirting.depth)} and {making.mm(skirting.clearance)} clearance, in sides "
            f"{making.mm(shell.side_depth)} deep",
            allowed=f"at most {making.most(max(0.0, most))}: half of a side stands on the floor",
            do="Make the case deeper, or cut the skirting board away behind it.",
            ways=(making.at_most(most),) if most > 0 else (),
        )
    if skirting.top > high + EXACT:
        making.fault(
            "skirting-size",
            f"{skirting.field}.height",
            found=f"{making.mm(skirting.height)} and {making.mm(skirting.clearance)} clearance, in a case "
            f"{making.mm(case.height)} high",
            allowed=f"at most {making.most(max(0.0, high - skirting.clearance))}, half of the case",
            do="Make the case taller, or stand it in front of the skirting board.",
            ways=(making.at_most(high - skirting.clearance),) if high > skirting.clearance else (),
        )


def _check_back(making: Making, shell: Shell) -> None:
    """Note a back that a skirting board would meet, where the board reaches higher than the case's underside."""
    case, back, skirting = making.case, making.case.back, making.case.skirting
    if skirting is None or shell.clear_rear > case.depth - EXACT:
        return
    higher = (making.at_least(skirting.top, f"{case.plinth.field}.height"),) if case.plinth is not None else ()
    if back.kind in {BackKind.APPLIED, BackKind.REBATED}:
        making.fault(
            "skirting-back",
            f"{back.field}.kind",
            found=f'"{back.kind.value}" from {making.mm(shell.floor)} above the floor on, and a notch for the skirting '
            f"board up to {making.mm(skirting.top)}",
            allowed='"grooved" or "between", which are set in for it, "none", or a plinth at least '
            f"{making.least(skirting.top)} high",
            do="Set the back in, or make the plinth as high as the notch.",
            ways=(
                WayOut(field="", value=BackKind.GROOVED.value),
                WayOut(field="", value=BackKind.BETWEEN.value),
                *higher,
            ),
        )
    elif back.inset and back.inset < shell.behind_back - EXACT:
        making.fault(
            "skirting-back",
            f"{back.field}.inset",
            found=making.mm(back.inset),
            allowed=f"at least {making.least(shell.behind_back)}, clear of the skirting board, or a plinth at least "
            f"{making.least(skirting.top)} high",
            do="Set the back in by more, or leave `inset` out: it then follows from the skirting board.",
            ways=(WayOut(field="", value=None), making.at_least(shell.behind_back), *higher),
        )


def notch_sides(making: Making) -> None:
    """Cut the lower rear corner of both sides for the skirting board, as far as it reaches into them."""
    case, skirting = making.case, making.case.skirting
    if skirting is None:
        return
    for panel in tuple(making.panels.values()):
        if panel.role not in {Role.SIDE_LEFT, Role.SIDE_RIGHT}:
            continue
        high, deep = skirting.top - panel.box.low.z, panel.box.high.y - (case.depth - case.clear_of_wall)
        if min(high, deep) <= EXACT:
            continue
        making.cut(
            panel,
            "skirting-notch",
            Surface.FACE,
            Point(panel.box.low.x, panel.box.high.y, panel.box.low.z + high / 2),
            CutOut(outline="notch", length=high, height=deep, corner=0.0, depth=panel.thickness, run=PanelAxis.U),
            why="clears the skirting board",
            item=SKIRTING,
        )
