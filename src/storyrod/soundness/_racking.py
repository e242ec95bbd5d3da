"""How a case keeps from leaning sideways: what its back gives, and what its corners would have to give without one."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storyrod.faults import Caution
from storyrod.measure.space import Axis
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.job import BackKind, BoardKind
from storyrod.model.joint import Joint
from storyrod.model.panel import Panel, Role
from storyrod.model.soundness import Racking
from storyrod.model.thresholds import Thresholds
from storyrod.soundness._boards import stiffness_of
from storyrod.soundness._section import MOE_OVER_G
from storyrod.trade.square import diagonal_difference
from storyrod.trade.strength import SCREWED_CORNER_NM

STIFFENS: Final = "stiffens"
LOCATES: Final = "locates"
NONE: Final = "none"

_TESTED: Final = (
    "screwed L-corners of MDF and chipboard, Atar and Ozcifci, Materials & Design 29(2), 2008; whole specimens"
)


def racking_of(case: DetailedCase, details: Details, thresholds: Thresholds) -> Racking:
    """Return what keeps a case upright in its front's plane under a push at the top."""
    boards = {b.code: b for b in details.job.boards}
    width, height = case.built.case.width, case.built.case.height
    back, by = _back(case, details)
    push = thresholds.push_n
    panel = next((p for p in case.panels if p.role is Role.BACK), None)
    lean_back = None
    if back == STIFFENS and panel is not None:
        board = boards[panel.board]
        e = stiffness_of(panel, board).along
        lean_back = None if e is None else shear_lean(push, width, height, panel.thickness, e / MOE_OVER_G)
    corners = [j for j in case.joints if j.at_corner and details.method(j.method).held_by_screws]
    sheet = {BoardKind.MDF, BoardKind.CHIPBOARD, BoardKind.FACED_CHIPBOARD}
    tested = bool(corners) and all(boards[case.panel(j.entering).board].kind in sheet for j in corners)
    return Racking(
        back=back,
        by=by,
        push_n=push,
        corner_nm=push * height / 4 / 1000,
        lean_frame=_frame_lean(case, details, push),
        lean_back=lean_back,
        diagonals=diagonal_difference(width, height, 1.0),
        corner_tests_nm=SCREWED_CORNER_NM if tested else None,
        corner_source=_TESTED if tested else "",
    )


def _back(case: DetailedCase, details: Details) -> tuple[str, str]:
    kind = case.built.case.back.kind
    if kind is BackKind.NONE:
        return NONE, "there is no back"
    joints = [j for j in case.joints if Role.BACK in {case.panel(j.receiving).role, case.panel(j.entering).role}]
    fixed = [j for j in joints if j.stations or details.method(j.method).glue]
    if len(fixed) >= 3:
        screws = sum(len(j.stations) for j in fixed)
        return (
            STIFFENS,
            f"{kind.value}, {_fixing(fixed, details)}, {screws} fixings" if screws else f"{kind.value}, glued",
        )
    if joints:
        return LOCATES, f"{kind.value}, loose in its grooves: it keeps the case square but does not stiffen it"
    return LOCATES, f"{kind.value}, not fixed along its edges"


def _fixing(joints: list[Joint], details: Details) -> str:
    return details.method(joints[0].method).name


def shear_lean(push_n: float, width: float, height: float, thickness: float, shear_n_mm2: float) -> float:
    """Return the lean (mm) at the top of a sheet fixed round its edges, in shear alone: `F h / (G t w)`."""
    return push_n * height / (shear_n_mm2 * thickness * width)


def frame_lean(push_n: float, width: float, height: float, level_n_mm2: float, upright_n_mm2: float) -> float:
    """Return the lean (mm) at the top of a closed frame with rigid corners: `F h^2 / 24 (b / EI_b + h / EI_u)`.

    Two equal levels and two equal uprights, standing on the floor by its lower corners (slope-deflection method).
    """
    return push_n * height**2 / 24 * (width / level_n_mm2 + height / upright_n_mm2)


def _frame_lean(case: DetailedCase, details: Details, push_n: float) -> float | None:
    boards = {b.code: b for b in details.job.boards}

    def rigidity(panel: Panel) -> float | None:
        e = stiffness_of(panel, boards[panel.board]).along
        return None if e is None else e * panel.box.size(Axis.Y) * panel.thickness**3 / 12

    sides = [rigidity(p) for p in case.panels if p.role in {Role.SIDE_LEFT, Role.SIDE_RIGHT}]
    levels = [rigidity(p) for p in case.panels if p.role in {Role.TOP, Role.BASE}]
    if len(sides) < 2 or len(levels) < 2 or None in (*sides, *levels):
        return None
    width, height = case.built.case.width, case.built.case.height
    return frame_lean(push_n, width, height, min(e for e in levels if e), min(e for e in sides if e))


def racking_cautions(case_name: str, racking: Racking, height: float, thresholds: Thresholds) -> Iterator[Caution]:
    """Return a caution where nothing stiffens the case sideways."""
    if racking.back == STIFFENS:
        return
    lean = ""
    if racking.lean_frame is not None and racking.lean_frame > height / thresholds.lean:
        by = thresholds.lengths.about(racking.lean_frame)
        lean = f" Even with corners that do not give at all, it would lean {by}."
    push = f"A push of {racking.push_n:g} N at the top"
    corner = f"{push} puts {racking.corner_nm:,.0f} N m on each corner.{lean} An estimate."
    if racking.back == NONE:
        yield Caution(
            code="racking-no-back",
            about=case_name,
            text=f"Without a back, its corners alone keep it from leaning sideways. {corner}",
            do="Give it a back that is screwed or glued all round, or fix it to the wall or to its neighbours.",
        )
    else:
        yield Caution(
            code="racking-loose-back",
            about=case_name,
            text=f"Its back is {racking.by}. {corner}",
            do="Glue or screw the back along at least three edges, or fix the case to the wall or to its neighbours.",
        )
