"""Small cases made from boxes by hand: panels, the joints where they touch, and a few methods with short figures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from storyrod.measure.space import AXES, Axis, Box, Direction, Frame, Point
from storyrod.model.carcass import BuiltCase
from storyrod.model.detail import Joined, JoinedCase
from storyrod.model.feature import Feature
from storyrod.model.job import JointClass
from storyrod.model.joint import Joint, JointId, JointKind
from storyrod.model.method import Cut, CutKind, CutPlace, Method, Motion, SizeForBoard
from storyrod.model.panel import Grain, Panel, PanelId, Role, frame_in
from storyrod.model.workshop import Handling, Workshop
from tests import builders

ALL = tuple(JointClass)


def _hole(depth: float, place: CutPlace = CutPlace.JOINT) -> Cut:
    return Cut(kind=CutKind.HOLE, diameter=8.0, depth=depth, place=place)


DOWELS = Method(
    code="dowels",
    name="dowels",
    motion=Motion.STRAIGHT,
    classes=ALL,
    glue=True,
    clamps=True,
    sizes=(SizeForBoard(low=2, high=40, receiving=(_hole(13),), entering=(_hole(24),)),),
)
DRY = replace(DOWELS, code="dry dowels", name="dry dowels", glue=False, clamps=False)
CAMS = Method(
    code="cams",
    name="cams",
    motion=Motion.STRAIGHT,
    classes=ALL,
    undone=True,
    sizes=(SizeForBoard(low=2, high=40, receiving=(_hole(11),), entering=(_hole(24), _hole(13, CutPlace.FAR_FACE))),),
)
SCREWS = Method(
    code="screws",
    name="screws",
    motion=Motion.FREE,
    classes=ALL,
    held_by_screws=True,
    undone=True,
    sizes=(SizeForBoard(low=2, high=40, receiving=(_hole(18, CutPlace.OUTSIDE),), entering=(_hole(37),)),),
)
KEYHOLES = Method(
    code="keyholes",
    name="keyholes",
    motion=Motion.STRAIGHT_THEN_SLIDE,
    classes=ALL,
    undone=True,
    slide_travel=12.0,
    sizes=(
        SizeForBoard(
            low=2,
            high=40,
            receiving=(Cut(kind=CutKind.KEYHOLE, diameter=15, width=7, depth=11, travel=12),),
            entering=(_hole(30),),
        ),
    ),
)
SLIDES = Method(
    code="slides",
    name="slides",
    motion=Motion.SLIDE,
    classes=ALL,
    whole_line=True,
    undone=True,
    sizes=(SizeForBoard(low=2, high=40),),
)
HOUSING = Method(
    code="housing",
    name="housing",
    motion=Motion.STRAIGHT,
    classes=ALL,
    whole_line=True,
    glue=True,
    clamps=True,
    sizes=(SizeForBoard(low=2, high=40, enters=6.0),),
)
STOPPED = replace(
    HOUSING,
    code="stopped housing",
    name="stopped housing",
    sizes=(SizeForBoard(low=2, high=40, enters=6.0, stop_short=10.0),),
)
BUTT = Method(
    code="butt", name="glued butt", motion=Motion.FREE, classes=ALL, whole_line=True, glue=True, clamps=True,
    sizes=(SizeForBoard(low=2, high=40),),
)  # fmt: skip
GROOVE = Method(
    code="groove", name="groove", motion=Motion.STRAIGHT, classes=ALL, whole_line=True,
    sizes=(SizeForBoard(low=2, high=40),),
)  # fmt: skip
METHODS = {m.code: m for m in (DOWELS, DRY, CAMS, SCREWS, KEYHOLES, SLIDES, HOUSING, STOPPED, BUTT, GROOVE)}

_FRAMES = {
    Axis.X: Frame(Point(0, 0, 0), Direction.UP, Direction.BACKWARD, Direction.RIGHT),
    Axis.Z: Frame(Point(0, 0, 0), Direction.RIGHT, Direction.BACKWARD, Direction.DOWN),
    Axis.Y: Frame(Point(0, 0, 0), Direction.RIGHT, Direction.UP, Direction.BACKWARD),
}
_ROLES = {
    "left": Role.SIDE_LEFT, "right": Role.SIDE_RIGHT, "top": Role.TOP, "base": Role.BASE, "back": Role.BACK,
    "plinth": Role.PLINTH, "shelf": Role.SHELF, "divider": Role.DIVIDER,
}  # fmt: skip

Span = tuple[float, float]


def box(x: Span, y: Span, z: Span) -> Box:
    """Return a box from its three spans."""
    return Box(Point(x[0], y[0], z[0]), Point(x[1], y[1], z[1]))


def panel(name: str, where: Box, body: str = "carcass") -> Panel:
    """Return a panel lying across its thinnest extent; its role is told by the first word of its name."""
    thin = min(AXES, key=where.size)
    role = _ROLES.get(name.split(maxsplit=1)[0], Role.SHELF)
    return Panel(
        id=PanelId(f"A.{name.replace(' ', '-')}"), case="A", mark="A1", role=role, name=name, body=body, board="b18",
        box=where, frame=frame_in(where, _FRAMES[thin]), grain=Grain.FREE, cause=f"cases[0].{name}",
    )  # fmt: skip


def joint(number: int, entering: Panel, receiving: Panel, method: Method) -> Joint:
    """Return the joint of two panels that touch, or of which one is let into the other's face."""
    home = _home(entering.box, receiving.box, receiving)
    across = min(AXES, key=entering.box.size)
    run = next(a for a in AXES if a is not home.axis and a is not across)
    spans = {a: _shared(entering.box, receiving.box, a) for a in AXES}
    let_in = max(0.0, spans[home.axis][1] - spans[home.axis][0])
    low, high = receiving.box.span(home.axis)
    spans[home.axis] = (low, low) if home.sign > 0 else (high, high)
    patch = box(spans[Axis.X], spans[Axis.Y], spans[Axis.Z])
    return Joint(
        id=JointId(f"A.J{number}"), number=f"J{number}", case="A", kind=_kind(entering, receiving), at_corner=False,
        receiving=receiving.id, entering=entering.id,
        receiving_surface=receiving.surface_toward(home.reverse.value),
        entering_surface=entering.surface_toward(home.value),
        contact=patch, home=home, run=Direction(f"+{run.value}"), length=patch.size(run),
        start=spans[run][0], shift=0.0, method=method.code, motion=method.motion, travel=method.slide_travel,
        enters=let_in, stations=() if method.whole_line else (50.0, 210.0),
        connectors=() if method.whole_line else ((method.name, 2),), glue=method.glue,
    )  # fmt: skip


def _kind(entering: Panel, receiving: Panel) -> JointKind:
    roles = {entering.role, receiving.role}
    if Role.BACK in roles:
        return JointKind.BACK
    return JointKind.PLINTH if Role.PLINTH in roles else JointKind.MID_PANEL


def _shared(one: Box, other: Box, axis: Axis) -> Span:
    return max(one.span(axis)[0], other.span(axis)[0]), min(one.span(axis)[1], other.span(axis)[1])


def _home(entering: Box, receiving: Box, into: Panel) -> Direction:
    """The receiving panel's thickness is the axis; the entering panel lies to one side of it."""
    axis = min(AXES, key=into.box.size)
    middle = receiving.centre.along(axis) - entering.centre.along(axis)
    return Direction(f"{'+' if middle > 0 else '-'}{axis.value}")


def joined(
    panels: Mapping[str, Box],
    joints: Sequence[tuple[str, str, Method]],
    *,
    fittings: tuple[Feature, ...] = (),
    bodies: Mapping[str, str] | None = None,
) -> Joined:
    """Return one case `A` of these panels; a joint is (entering, receiving, method)."""
    made = {name: panel(name, where, (bodies or {}).get(name, "carcass")) for name, where in panels.items()}
    job = builders.job()
    case = replace(job.cases[0], board="b18")
    built = BuiltCase(
        case=case, panels=tuple(made.values()), inside=box((0, 1), (0, 1), (0, 1)), openings=(), drawers=(), doors=(),
        fittings=fittings, hardware=(), clearances=(),
    )  # fmt: skip
    found = tuple(joint(i, made[e], made[r], m) for i, (e, r, m) in enumerate(joints, start=1))
    return Joined(
        job=job,
        methods=tuple(METHODS.values()),
        cases=(JoinedCase(built=built, panels=built.panels, joints=found, fittings=fittings),),
    )


def shop(*, one_person_kg: float = 20.0, open_time_min: float = 5.0) -> Workshop:
    """Return a workshop with the methods above."""
    handling = Handling(one_person_kg=one_person_kg, open_time_min=open_time_min)
    return builders.workshop(methods=tuple(METHODS.values()), handling=handling)


W, H, D, T = 600.0, 720.0, 400.0, 18.0

LEFT = box((0, T), (0, D), (0, H))
RIGHT = box((W - T, W), (0, D), (0, H))


def across(z: float, *, enters: float = 0.0, depth: float = D) -> Box:
    """Return a horizontal panel between the sides with its underside at `z`."""
    return box((T - enters, W - T + enters), (0, depth), (z, z + T))


def both_sides(name: str, method: Method) -> list[tuple[str, str, Method]]:
    """Return the two joints of a panel between the sides."""
    return [(name, "left", method), (name, "right", method)]
