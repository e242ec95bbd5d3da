"""A small case made only to show one method: its joint drawn with the figures as they are, and what is wrong there."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from storyrod.adapters.files import job_from_text
from storyrod.faults import Fault, JobError
from storyrod.measure.length import show_mm
from storyrod.model.job import JointClass
from storyrod.model.joint import JointKind

if TYPE_CHECKING:
    from storyrod.drawing import Drawing
    from storyrod.model.detail import DetailedCase
    from storyrod.model.joint import Joint
    from storyrod.model.method import Method, SizeForBoard
    from storyrod.model.workshop import Workshop
    from storyrod.planning import Plan

USUAL: Final = 18.0
_SPARE: Final = 'corner = "glued butt"\nmid_panel = "glued butt"\nplinth = "glued butt"\nback = "glued butt"\n'


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """A joint of the sample case, or why it cannot be made.

    Attributes:
        board: the measured thickness of both boards.
        faults: what stops it, in words; then there is no joint.
    """

    method: Method
    board: float
    case: DetailedCase | None
    joint: Joint | None
    plan: Plan | None = None
    faults: tuple[Fault, ...] = ()


@lru_cache(maxsize=64)
def sample_of(workshop: Workshop, code: str, size: int = 0, *, thinnest: bool = False) -> Sample | None:
    """Return a sample joint held by one size of a method; None where there is no such method or size.

    The boards are of the usual thickness, where the size serves that, unless the `thinnest` it serves is asked for.
    """
    from storyrod.planning import Plan

    method = workshop.method(code)
    if method is None or not 0 <= size < len(method.sizes):
        return None
    chosen = method.sizes[size]
    kind = _kind_of(method)
    board = _board(chosen, thinnest=thinnest, middle=kind is JointKind.BACK)
    try:
        read = job_from_text(_job(method, kind, board), name="a sample case", workshop=workshop)
        plan = Plan(read.job, read.workshop)
        details = plan.sketch
    except JobError as error:
        return Sample(method=method, board=board, case=None, joint=None, faults=_plain(error.faults))
    case = details.cases[0]
    joints = [j for j in case.joints if j.kind is kind and j.method == code]
    if not joints:
        return Sample(method=method, board=board, case=None, joint=None)
    return Sample(method=method, board=board, case=case, joint=max(joints, key=lambda j: j.length), plan=plan)


def _board(size: SizeForBoard, *, thinnest: bool, middle: bool) -> float:
    if not thinnest and size.low <= USUAL < size.high:
        return USUAL
    return min((size.low + size.high) / 2 if middle else size.low, 90.0)


def _kind_of(method: Method) -> JointKind:
    """Return the class of joint to show: a corner, where the method serves one."""
    order = (JointClass.CORNER, JointClass.MID_PANEL, JointClass.PLINTH, JointClass.BACK, JointClass.DRAWER_BOX)
    first = next((c for c in order if c in method.classes), JointClass.CORNER)
    return JointKind(first.value)


def _job(method: Method, kind: JointKind, board: float) -> str:
    from storyrod.adapters.files.workshop_words import quoted

    named = kind.name.lower()
    chosen = f"{named} = {quoted(method.code)}\n"
    others = "".join(line + "\n" for line in _SPARE.splitlines() if not line.startswith(f"{named} "))
    grooved = kind is JointKind.BACK and method.code == "groove"
    back = f'[cases.back]\nkind = "{"grooved" if grooved else "applied"}"\nboard = "back"\n'
    back += "inset = 12\n" if grooved else ""
    drawer = '[cases.drawers]\nboard = "b"\nbottom_board = "thin"\n'
    return (
        "format = 1\n"
        f"[methods]\n{chosen}{others if kind is not JointKind.DRAWER_BOX else ''}"
        f'[boards.b]\nkind = "plywood"\nthickness = {max(board, USUAL) if kind is JointKind.BACK else board!r}\n'
        f'[boards.back]\nkind = "plywood"\nthickness = {board!r}\n'
        '[boards.thin]\nkind = "plywood"\nthickness = 6\n'
        '[[cases]]\ncode = "S"\nboard = "b"\nwidth = 640\nheight = 620\ndepth = 560\n'
        + ("[cases.plinth]\nheight = 100\nsetback = 40\n" if kind is JointKind.PLINTH else "")
        + (back if kind is JointKind.BACK else "")
        + (drawer if kind is JointKind.DRAWER_BOX else "")
        + "[cases.inside]\n"
        + ('holds = "drawer"\n' if kind is JointKind.DRAWER_BOX else "")
        + ("rows = [{}, {}]\n" if kind is JointKind.MID_PANEL else "")
    )


def _plain(faults: tuple[Fault, ...]) -> tuple[Fault, ...]:
    """Return the faults, one of each kind at each field: the joints of the sample find the same."""
    seen: dict[tuple[str, str], Fault] = {}
    for fault in faults:
        seen.setdefault((fault.code, fault.field), fault)
    return tuple(seen.values())[:6]


def drawing_of(sample: Sample, room: tuple[float, float] = (112.0, 92.0), *, with_words: bool = True) -> Drawing | None:
    """Return the section through the sample joint; a small one without words and sizes."""
    from storyrod.drawing import joint_detail

    if sample.case is None or sample.joint is None:
        return None
    return joint_detail(sample.case, sample.joint, boards=("b", "thin"), room=room, with_words=with_words)


def row_of(sample: Sample, room: float = 150.0) -> Drawing | None:
    """Return the joint seen along its line: where its stations stand, from the end that they are measured from."""
    from storyrod.drawing.station_row import station_row

    joint = sample.joint
    if joint is None or not joint.stations:
        return None
    return station_row(joint.length, joint.stations, sample.board, board="b", room=room)


def not_made(sample: Sample) -> tuple[Fault, ...]:
    """Return why this workshop cannot make the sample's cuts; nothing where it can."""
    if sample.plan is None:
        return ()
    try:
        sample.plan.machining  # noqa: B018  # worked out when first asked for
    except JobError as error:
        return _plain(error.faults)
    return ()


def facts_of(sample: Sample, size: int) -> tuple[str, ...]:
    """Return what the figures of a method come to in the sample's boards, in words."""
    from storyrod.model.method import CutPlace

    board, chosen, rules = sample.board, sample.method.sizes[size], sample.method.rules
    told: list[str] = []
    for cut in chosen.receiving:
        if cut.depth is not None and not cut.through:
            left = show_mm(board - cut.depth)
            told.append(
                f"In the face: {show_mm(cut.depth)} deep in a board of {show_mm(board)} leaves {left} under it."
            )
    for cut in chosen.entering:
        wide = max(cut.diameter or 0.0, cut.width or 0.0, cut.undercut_width or 0.0)
        if cut.place is CutPlace.JOINT and wide > 0:
            beside = show_mm(board / 2 - abs(cut.across) - wide / 2)
            told.append(
                f"In the edge: {show_mm(wide)} wide in a board of {show_mm(board)} leaves {beside} on either side."
            )
    if chosen.enters:
        told.append(f"Let in {show_mm(chosen.enters)} deep, it leaves {show_mm(board - chosen.enters)} under it.")
    depths = [
        max((c.depth or 0.0 for c in cuts if c.place is CutPlace.JOINT), default=0.0)
        for cuts in (chosen.receiving, chosen.entering)
    ]
    if all(depths):
        told.append(f"The two depths make {show_mm(sum(depths))} together.")
    if rules is not None:
        several = 2 * rules.end_min + rules.gap_min * (rules.least - 1)
        told.append(f"The shortest joint that takes {rules.least} of them is {show_mm(several)} long.")
        if rules.single and rules.least > 1:
            told.append(f"One in the middle will do from {show_mm(2 * rules.end_min)} on.")
    return tuple(dict.fromkeys(told))
