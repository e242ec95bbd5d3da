"""A small case put together by hand, panel by panel and hole by hole, for tests of the proof and of the solids.

600 wide, 400 high, 300 deep, of 18 mm board: two sides, top, base and a shelf between them, 2 dowels a joint.
No stage of storyrod has a hand in it, so a test says exactly what the proof must find.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from storyrod.measure.space import Box, Direction, Frame, PanelAxis, PanelPoint, Point
from storyrod.model.carcass import BuiltCase, OpeningPlace
from storyrod.model.detail import ConnectorCount, DetailedCase, Details
from storyrod.model.feature import Feature, FeatureId, Hole
from storyrod.model.job import Holds, JointClass
from storyrod.model.joint import Joint, JointId, JointKind
from storyrod.model.mark import CaseSetOut, Mark, PanelSetOut, SetOut
from storyrod.model.method import Consumed, Cut, CutKind, Method, Motion, SizeForBoard, StationRules
from storyrod.model.panel import Grain, Panel, PanelId, Role, Surface, frame_in
from tests import builders

T, W, H, D = 18.0, 600.0, 400.0, 300.0
NOWHERE = Point(0.0, 0.0, 0.0)
STATIONS = (50.0, 250.0)

DOWELS = Method(
    code="dowels",
    name="dowels",
    motion=Motion.STRAIGHT,
    classes=(JointClass.CORNER, JointClass.MID_PANEL),
    rules=StationRules(end=50.0, end_min=30.0, pitch=250.0, gap_min=32.0, least=2),
    sizes=(
        SizeForBoard(
            low=15.0,
            high=25.0,
            receiving=(Cut(kind=CutKind.HOLE, diameter=8.0, depth=13.0),),
            entering=(Cut(kind=CutKind.HOLE, diameter=8.0, depth=23.0),),
            consumes=(Consumed(item="dowel 8 x 35"),),
        ),
    ),
)


def panel(role: Role, name: str, box: Box, ways: tuple[Direction, Direction, Direction], **more: Any) -> Panel:
    """Return a panel of the case in its place, its frame along the three directions given."""
    own = PanelId(f"A.{name.replace(' ', '-')}")
    plain = Panel(
        id=own,
        case="A",
        mark="A0",
        role=role,
        name=name,
        body="carcass",
        board="b18",
        box=box,
        frame=frame_in(box, Frame(NOWHERE, *ways)),
        grain=Grain.FREE,
        cause="cases[0]",
    )
    return replace(plain, **more)


def box(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> Box:
    """Return a box from its three spans."""
    return Box(Point(x[0], y[0], z[0]), Point(x[1], y[1], z[1]))


UPRIGHT_LEFT = (Direction.UP, Direction.BACKWARD, Direction.LEFT)
UPRIGHT_RIGHT = (Direction.UP, Direction.BACKWARD, Direction.RIGHT)
FLAT = (Direction.RIGHT, Direction.BACKWARD, Direction.DOWN)


def panels() -> tuple[Panel, ...]:
    """Return the five panels, marked A1 to A5."""
    inside = (T, W - T)
    left = panel(Role.SIDE_LEFT, "left side", box((0, T), (0, D), (0, H)), UPRIGHT_LEFT)
    right = panel(Role.SIDE_RIGHT, "right side", box((W - T, W), (0, D), (0, H)), UPRIGHT_RIGHT)
    made = (
        replace(left, twin=right.id),
        replace(right, twin=left.id),
        panel(Role.TOP, "top", box(inside, (0, D), (H - T, H)), FLAT),
        panel(Role.BASE, "base", box(inside, (0, D), (0, T)), FLAT),
        panel(Role.SHELF, "shelf 1", box(inside, (0, D), (191, 209)), FLAT),
    )
    return tuple(replace(p, mark=f"A{n}") for n, p in enumerate(made, start=1))


def details() -> Details:
    """Return the whole case with its six joints, every dowel hole on both panels."""
    parts = panels()
    left, right, *flat = parts
    joints: list[Joint] = []
    features: list[Feature] = []
    for entering in flat:
        for receiving, surface in ((left, Surface.DATUM_END), (right, Surface.FAR_END)):
            joint = _joint(f"J{len(joints) + 1}", receiving, entering, surface)
            joints.append(joint)
            for station, along in enumerate(STATIONS, start=1):
                features += _dowel(joint, station, along, receiving, entering)
    case = builders.case(width=W, height=H, depth=D, field="cases[0]")
    built = BuiltCase(
        case=case,
        panels=parts,
        inside=box((T, W - T), (0, D), (T, H - T)),
        openings=(_opening("above", (209, H - T)), _opening("below", (T, 191))),
        drawers=(),
        doors=(),
        fittings=(),
        hardware=(),
        clearances=(),
    )
    count = ConnectorCount(method="dowels", item="dowel 8 x 35", count=len(joints) * len(STATIONS))
    detailed = DetailedCase(
        built=built, panels=parts, joints=tuple(joints), features=tuple(features), connectors=(count,)
    )
    return Details(job=builders.job(case), methods=(DOWELS,), cases=(detailed,))


def _opening(name: str, z: tuple[float, float]) -> OpeningPlace:
    room = box((T, W - T), (0, D), z)
    return OpeningPlace(
        id=f"A.{name}", name=name, box=room, holds=Holds.OPEN, loose_shelves=0, load_kg=None, depth_order=1
    )


def _joint(number: str, receiving: Panel, entering: Panel, surface: Surface) -> Joint:
    x = T if surface is Surface.DATUM_END else W - T
    middle = entering.box.centre.z
    return Joint(
        id=JointId(f"A.{number}"),
        number=number,
        case="A",
        kind=JointKind.MID_PANEL if entering.role is Role.SHELF else JointKind.CORNER,
        at_corner=entering.role is not Role.SHELF,
        receiving=receiving.id,
        entering=entering.id,
        receiving_surface=Surface.FACE,
        entering_surface=surface,
        contact=box((x, x), (0, D), (middle - T / 2, middle + T / 2)),
        home=Direction.LEFT if surface is Surface.DATUM_END else Direction.RIGHT,
        run=Direction.BACKWARD,
        length=D,
        start=0.0,
        shift=0.0,
        method="dowels",
        motion=Motion.STRAIGHT,
        stations=STATIONS,
    )


def _dowel(joint: Joint, station: int, along: float, receiving: Panel, entering: Panel) -> list[Feature]:
    own, mate = FeatureId(f"{joint.id}.{station}.r"), FeatureId(f"{joint.id}.{station}.e")
    end = 0.0 if joint.entering_surface is Surface.DATUM_END else entering.length
    return [
        Feature(
            id=own,
            panel=receiving.id,
            surface=Surface.FACE,
            at=PanelPoint(entering.box.centre.z, along, 0.0),
            shape=Hole(diameter=8.0, depth=13.0),
            joint=joint.id,
            station=station,
            mate=mate,
        ),
        Feature(
            id=mate,
            panel=entering.id,
            surface=joint.entering_surface,
            at=PanelPoint(end, along, T / 2),
            shape=Hole(diameter=8.0, depth=23.0),
            joint=joint.id,
            station=station,
            mate=own,
        ),
    ]


def set_out(told: Details) -> SetOut:
    """Return marks that stand exactly where the cuts are, each naming its mate."""
    cases = []
    for case in told.cases:
        labels = {f.id: f"{case.panel(f.panel).mark}.{n}" for n, f in enumerate(case.features, start=1)}
        drawn = []
        for p in case.panels:
            marks = tuple(
                Mark(
                    number=n,
                    label=labels[f.id],
                    panel=p.id,
                    surface=f.surface,
                    feature=f,
                    what=f.kind,
                    u=f.at.u,
                    v=f.at.v,
                    w=f.at.w,
                    mate=labels.get(f.mate, "") if f.mate else "",
                )
                for n, f in enumerate((f for f in case.features if f.panel == p.id), start=1)
            )
            drawn.append(PanelSetOut(panel=p, marks=marks, lines=()))
        cases.append(CaseSetOut(case=case.built.case.code, panels=tuple(drawn), openings=case.built.openings))
    return SetOut(mark_to=told.job.mark_to, cases=tuple(cases), gangs=(), rods=())


def with_feature(told: Details, feature_id: str, change: Callable[[Feature], Feature]) -> Details:
    """Return the details with one feature changed."""
    return _with_case(told, features=lambda f: change(f) if f.id == feature_id else f)


def with_more(told: Details, *features: Feature) -> Details:
    """Return the details with further features."""
    case = told.cases[0]
    return replace(told, cases=(replace(case, features=(*case.features, *features), _by_panel={}),))


def with_panel(told: Details, name: str, change: Callable[[Panel], Panel]) -> Details:
    """Return the details with one panel changed."""
    return _with_case(told, panels=lambda p: change(p) if p.name == name else p)


def _with_case(
    told: Details,
    *,
    features: Callable[[Feature], Feature] = lambda f: f,
    panels: Callable[[Panel], Panel] = lambda p: p,
) -> Details:
    case = told.cases[0]
    changed = replace(
        case,
        features=tuple(features(f) for f in case.features),
        panels=tuple(panels(p) for p in case.panels),
        _by_panel={},
    )
    return replace(told, cases=(changed,))


def moved(feature: Feature, axis: PanelAxis, by: float) -> Feature:
    """Return a feature moved along an axis of its panel."""
    return replace(feature, at=feature.at.moved(axis, by))
