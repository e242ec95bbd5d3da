"""The case as plain values for the live view: boxes, what is cut in their faces, joints, and the steps of assembly."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from storyrod.drawing import (
    Circle,
    Figures,
    Hatch,
    Lying,
    Path,
    Tint,
    board_fill,
    face_cuts,
    let_in,
    moved_apart,
    step_shown,
)
from storyrod.measure.space import Box, Direction, Point
from storyrod.model.assembly import CasePlan, Step, StepKind
from storyrod.model.carcass import RailPlace
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.feet import FootPlace
from storyrod.model.job import Job
from storyrod.model.joint import Joint
from storyrod.model.panel import Panel, Role

Data = dict[str, Any]

_SIDES = frozenset({Role.SIDE_LEFT, Role.SIDE_RIGHT})
_FRONTS = frozenset({Role.DOOR, Role.DRAWER_FRONT})


def model_data(details: Details, case: DetailedCase) -> Data:
    """Return a case for the live view; places in mm of the case frame, cuts as lines in the plane of their face."""
    job = details.job
    apart = moved_apart(case.panels)
    about = case.built.case
    return {
        "case": about.code,
        "name": about.name,
        "panels": [
            *(_panel(job, case, p, far) for p, far in zip(case.panels, apart, strict=True)),
            *(_tube(r, Figures.of_job(job)) for r in case.built.rails),
            *(_foot(f, about.raised, Figures.of_job(job)) for f in case.built.feet),
        ],
        "joints": [_joint(details, case, j) for j in case.joints],
        "takes": let_in(case),
    }


def steps_data(case: DetailedCase, told: CasePlan, figures: Figures) -> list[Data]:
    """Return the steps of a case for the live view, in their order."""
    return [_step(case, step, told.steps[:n], figures) for n, step in enumerate(told.steps)]


def _panel(job: Job, case: DetailedCase, panel: Panel, apart: Box) -> Data:
    fill = board_fill(panel.board, tuple(b.code for b in job.boards))
    features = case.on(panel.id)
    moved = apart.low - panel.box.low
    return {
        "id": panel.id,
        "mark": panel.mark,
        "name": panel.name,
        "size": size_words(panel, Figures.of_job(job)),
        "board": job.board(panel.board).name,
        "tint": fill.tint.value,
        "hatch": fill.hatch.value,
        "low": _point(panel.box.low),
        "high": _point(panel.box.high),
        "apart": _point(moved),
        "side": panel.role in _SIDES,
        "front": panel.role in _FRONTS,
        "cuts": {way.value: "".join(map(line_way, lines)) for way, lines in face_cuts(panel, features).items()},
        "told": cuts_words(len(features)),
    }


def _tube(rail: RailPlace, figures: Figures) -> Data:
    """Return a clothes rail's tube as the live view shows it: square, with no mark and no cuts."""
    return {
        "id": rail.id,
        "mark": "",
        "name": f"tube of {rail.name}",
        "size": f"{figures.of(rail.length)}, Ø{figures.lengths.bought_n(rail.diameter)}",
        "board": rail.material.value,
        "tint": Tint.BOARD_4.value,
        "hatch": Hatch.NONE.value,
        "low": _point(rail.box.low),
        "high": _point(rail.box.high),
        "apart": [0.0, 0.0, 0.0],
        "side": False,
        "front": False,
        "cuts": {},
        "told": cuts_words(0),
    }


def _foot(foot: FootPlace, raised: float, figures: Figures) -> Data:
    """Return a levelling foot as the live view shows it: its stem as a block, with no mark and no cuts."""
    half = foot.plate / 4
    return {
        "id": foot.id,
        "mark": "",
        "name": f"levelling foot {foot.id.rpartition('-')[2]}",
        "size": f"{figures.of(raised)} high",
        "board": foot.kind,
        "tint": Tint.BOARD_4.value,
        "hatch": Hatch.NONE.value,
        "low": _point(Point(foot.x - half, foot.y - half, 0.0)),
        "high": _point(Point(foot.x + half, foot.y + half, raised)),
        "apart": [0.0, 0.0, 0.0],
        "side": False,
        "front": False,
        "cuts": {},
        "told": cuts_words(0),
    }


def size_words(panel: Panel, figures: Figures) -> str:
    """Return length, width and thickness, finished."""
    return " × ".join(figures.of(x) for x in (panel.length, panel.width, panel.thickness))


def cuts_words(count: int) -> str:
    """Return how many cuts a panel gets, in words."""
    return "nothing is cut in it" if not count else f"{count} cut{'s' if count != 1 else ''}"


def _joint(details: Details, case: DetailedCase, joint: Joint) -> Data:
    receiving, entering = case.panel(joint.receiving), case.panel(joint.entering)
    return {
        "id": joint.id,
        "number": joint.number,
        "receiving": joint.receiving,
        "entering": joint.entering,
        "low": _point(joint.contact.low),
        "high": _point(joint.contact.high),
        "words": f"{entering.mark} {entering.name} on {receiving.mark} {receiving.name}",
        "held": details.method(joint.method).name,
    }


def _step(case: DetailedCase, step: Step, earlier: Sequence[Step], figures: Figures) -> Data:
    shown = step_shown(case, step, earlier)
    word = "down" if step.kind is StepKind.RAIL else "slide"
    return {
        "number": step.number,
        "kind": step.kind.value,
        "moving": [*step.moving, *([step.body] if step.kind is StepKind.RAIL else [])],
        "standing": [
            *sorted(shown.standing),
            *(s.body for s in earlier if s.kind is StepKind.RAIL),
            *_feet_on(case, step, earlier),
        ],
        "bears": list(step.rests_on),
        "opened": [{"id": p, "low": _point(box.low), "high": _point(box.high)} for p, box in shown.opened],
        "legs": [_point(leg.vector) for leg in step.legs],
        "lies": _ways(shown.lying),
        "lay": _ways(shown.before),
        "joints": list(step.joints),
        "slide": f"{word} {figures.of(step.legs[1].distance)}" if len(step.legs) > 1 else "",
    }


def _feet_on(case: DetailedCase, step: Step, earlier: Sequence[Step]) -> list[str]:
    """Return the levelling feet once they are on: in the step that fits them, and from then on."""
    return [f.id for f in case.built.feet] if any(s.kind is StepKind.FEET for s in (*earlier, step)) else []


def _ways(lying: Lying) -> list[list[int]]:
    """Return the directions of the case that point right, away from the maker, and up."""
    return [_unit(way) for way in (lying.right, lying.away, lying.up)]


def _unit(way: Direction) -> list[int]:
    return [way.sign if nth == way.nth else 0 for nth in range(3)]


def _point(p: Point) -> list[float]:
    return [_n(p.x), _n(p.y), _n(p.z)]


def _n(value: float) -> float:
    return round(value, 3) + 0.0


def line_way(line: Path | Circle) -> str:
    """Return a closed line as the way of an SVG path in its own coordinates; both axes grow as the line's do."""
    if isinstance(line, Circle):
        (x, y), r = line.centre, line.radius
        return f"M{_g(x - r, y)}a{_g(r, r)} 0 1 0 {_g(2 * r, 0)}a{_g(r, r)} 0 1 0 {_g(-2 * r, 0)}z"
    return "".join(_pieces(line)) + "z"


def _pieces(path: Path) -> Iterable[str]:
    bulges = path.bulges or (0.0,) * len(path.points)
    yield f"M{_g(*path.points[0])}"
    ends = (*path.points[1:], path.points[0])
    for (x0, y0), (x, y), bulge in zip(path.points, ends, bulges, strict=True):
        if bulge:
            chord = ((x - x0) ** 2 + (y - y0) ** 2) ** 0.5
            r = chord * (1 + bulge * bulge) / (4 * abs(bulge))
            yield f"A{_g(r, r)} 0 {int(abs(bulge) > 1)} {int(bulge > 0)} {_g(x, y)}"
        else:
            yield f"L{_g(x, y)}"


def _g(x: float, y: float) -> str:
    return f"{round(x, 2) + 0.0:g} {round(y, 2) + 0.0:g}"
