"""Panels set out by hand, for tests of drawings: small ones, crowded ones, handed ones."""

from __future__ import annotations

from dataclasses import replace

from storyrod.measure.space import Box, Direction, Frame, PanelAxis, PanelPoint, Point
from storyrod.model.feature import (
    AngledPocket,
    Channel,
    CutOut,
    Feature,
    FeatureId,
    Hole,
    Keyhole,
    SegmentPocket,
    Shape,
    Slot,
    UndercutSlot,
)
from storyrod.model.joint import JointId
from storyrod.model.mark import JointLine, Mark, PanelSetOut
from storyrod.model.panel import Grain, Panel, PanelId, Role, Surface, frame_in

U, V, W = PanelAxis.U, PanelAxis.V, PanelAxis.W
UP, BACK, LEFT, RIGHT, DOWN = Direction.UP, Direction.BACKWARD, Direction.LEFT, Direction.RIGHT, Direction.DOWN

DOWEL = Hole(diameter=8.0, depth=13.0)
DOWEL_IN_EDGE = Hole(diameter=8.0, depth=30.0)
PIN = Hole(diameter=5.0, depth=12.0)
SCREW = Hole(diameter=4.5, depth=18.0, through=True, countersink=9.0)


def panel(
    role: Role = Role.SIDE_LEFT,
    *,
    length: float = 720.0,
    width: float = 400.0,
    thickness: float = 18.0,
    mark: str = "A1",
    grain: Grain = Grain.ALONG,
) -> Panel:
    """Return a side (u up) or a level panel (u to the right) with its corner at the case's origin."""
    if role in {Role.SIDE_LEFT, Role.SIDE_RIGHT, Role.DIVIDER}:
        size = Point(thickness, width, length)
        like = Frame(Point(0, 0, 0), UP, BACK, LEFT if role is Role.SIDE_LEFT else RIGHT)
    else:
        size = Point(length, width, thickness)
        like = Frame(Point(0, 0, 0), RIGHT, BACK, DOWN)
    box = Box(Point(0, 0, 0), size)
    names = {Role.SIDE_LEFT: "left side", Role.SIDE_RIGHT: "right side"}
    return Panel(
        id=PanelId(f"A.{role.replace(' ', '-')}"),
        case="A",
        mark=mark,
        role=role,
        name=names.get(role, str(role)),
        body="carcass",
        board="b18",
        box=box,
        frame=frame_in(box, like),
        grain=grain,
    )


class SetOutMaker:
    """Gathers marks and joint lines on one panel, numbered as they come."""

    def __init__(self, on: Panel) -> None:
        self.panel = on
        self.marks: list[Mark] = []
        self.lines: list[JointLine] = []

    def cut(
        self, surface: Surface, u: float, v: float, shape: Shape, *, joint: str = "", w: float | None = None
    ) -> SetOutMaker:
        """Cut one feature in a surface and mark it."""
        t = self.panel.thickness
        deep = {Surface.FACE: 0.0, Surface.FAR_FACE: t}.get(surface, t / 2) if w is None else w
        number = len(self.marks) + 1
        feature = Feature(
            id=FeatureId(f"{self.panel.id}.f{number}"),
            panel=self.panel.id,
            surface=surface,
            at=PanelPoint(u, v, deep),
            shape=shape,
            joint=joint,
        )
        self.marks.append(
            Mark(
                number=number,
                label=f"{self.panel.mark}.{number}",
                panel=self.panel.id,
                surface=surface,
                feature=feature,
                what=f"{shape.kind}, {shape.depth:g} deep",
                u=round(u * 2) / 2,
                v=round(v * 2) / 2,
                w=deep,
                joint=joint,
            )
        )
        return self

    def line(
        self,
        number: str,
        mate_mark: str,
        near: float,
        far: float,
        *,
        surface: Surface = Surface.FACE,
        across: bool = True,
        mate_surface: Surface = Surface.DATUM_END,
    ) -> SetOutMaker:
        """Draw where a mate stands."""
        end = self.panel.width if across else self.panel.length
        self.lines.append(
            JointLine(
                joint=JointId(f"A.{number}"),
                number=number,
                panel=self.panel.id,
                surface=surface,
                mate=PanelId(f"A.{mate_mark}"),
                mate_mark=mate_mark,
                mate_surface=mate_surface,
                across_length=across,
                near=near,
                far=far,
                face_side_line=far,
                start=0.0,
                end=end,
            )
        )
        return self

    def done(self) -> PanelSetOut:
        """Return the set-out."""
        return PanelSetOut(panel=self.panel, marks=tuple(self.marks), lines=tuple(self.lines))


def joint(
    maker: SetOutMaker, number: str, mate: str, at: float, stations: tuple[float, ...], shape: Shape = DOWEL
) -> None:
    """A mate 18 mm thick that stands across the panel, with one cut at each station."""
    maker.line(number, mate, at - 9.0, at + 9.0)
    for v in stations:
        maker.cut(Surface.FACE, at, v, shape, joint=number)


def side(role: Role = Role.SIDE_LEFT) -> PanelSetOut:
    """A side with base, two shelves, top, runner screws and a rebate for the back: about twenty marks."""
    on = replace(panel(role), twin=PanelId("A.side-right" if role is Role.SIDE_LEFT else "A.side-left"))
    maker = SetOutMaker(on)
    for number, mate, at in (("J1", "A4", 91.0), ("J2", "A5", 300.0), ("J3", "A6", 471.0), ("J4", "A3", 711.0)):
        joint(maker, number, mate, at, (50.0, 178.0, 306.0))
    for v in (37.0, 69.0, 261.0, 325.0):
        maker.cut(Surface.FACE, 391.0, v, Hole(diameter=2.5, depth=10.0))
    maker.cut(Surface.FACE, 360.0, 397.0, Channel(kind="rebate", length=720.0, width=6.0, depth=9.0, run=U))
    return maker.done()


def pin_side() -> PanelSetOut:
    """A tall right side with two columns of shelf pins besides its joints: more than sixty marks."""
    maker = SetOutMaker(panel(Role.SIDE_RIGHT, length=1800.0, width=560.0))
    for number, mate, at in (("J1", "A4", 91.0), ("J2", "A5", 900.0), ("J3", "A3", 1791.0)):
        joint(maker, number, mate, at, (50.0, 178.0, 306.0, 434.0, 510.0))
    for n in range(24):
        for v in (37.0, 485.0):
            maker.cut(Surface.FACE, 973.0 + 32.0 * n, v, PIN)
    return maker.done()


def shelf() -> PanelSetOut:
    """A shelf with bores in both ends, nothing on its faces: six marks."""
    maker = SetOutMaker(panel(Role.SHELF, length=564.0, width=380.0, mark="A5"))
    for u, end in ((0.0, Surface.DATUM_END), (564.0, Surface.FAR_END)):
        for v in (50.0, 178.0, 306.0):
            maker.cut(end, u, v, DOWEL_IN_EDGE, joint="J2")
    return maker.done()


def three_marks() -> PanelSetOut:
    """A narrow plinth with one bore in each end and one hole in its face."""
    maker = SetOutMaker(panel(Role.PLINTH, length=564.0, width=100.0, mark="A7", grain=Grain.FREE))
    maker.cut(Surface.DATUM_END, 0.0, 50.0, DOWEL_IN_EDGE).cut(Surface.FAR_END, 564.0, 50.0, DOWEL_IN_EDGE)
    return maker.cut(Surface.FACE, 282.0, 50.0, SCREW).done()


def every_kind() -> PanelSetOut:
    """One of each kind of cut on the face, with its fellow in the far face and slots in the edges."""
    maker = SetOutMaker(panel(Role.TOP, length=900.0, width=500.0, mark="B3"))
    shapes: tuple[Shape, ...] = (
        DOWEL,
        SCREW,
        Slot(length=30.0, width=8.0, depth=12.0, run=V),
        Keyhole(
            entry_diameter=10.0,
            slot_width=5.2,
            undercut_width=8.5,
            lip=3.5,
            depth=11.0,
            travel=14.0,
            run=V,
            lock_sign=1,
        ),
        SegmentPocket(disc=100.0, depth=12.0, width=4.0, run=V),
        UndercutSlot(length=64.0, width=6.0, undercut_width=9.5, lip=3.0, depth=10.0, run=V),
        Channel(kind="housing", length=450.0, width=18.0, depth=6.0, run=V, stopped=(True, False)),
        CutOut(outline="slot", length=90.0, height=25.0, corner=12.5, depth=18.0, run=U),
        AngledPocket(diameter=9.5, pilot=3.0, angle_deg=15.0, length=40.0, run=V, sign=-1),
    )
    for n, shape in enumerate(shapes):
        maker.cut(Surface.FACE, 60.0 + 95.0 * n, 250.0 if n != 6 else 275.0, shape)
    scoop = CutOut(outline="scoop", length=110.0, height=28.0, corner=14.0, depth=18.0, run=U)
    maker.cut(Surface.FACE, 300.0, 0.0, scoop)
    maker.cut(Surface.FAR_FACE, 150.0, 120.0, Hole(diameter=35.0, depth=12.5))
    maker.line("J9", "B8", 400.0, 418.0, surface=Surface.FAR_FACE, across=False, mate_surface=Surface.FAR_EDGE)
    for u in (100.0, 400.0, 700.0):
        maker.cut(Surface.FAR_FACE, u, 409.0, DOWEL, joint="J9")
        maker.cut(Surface.FAR_EDGE, u, 500.0, SegmentPocket(disc=100.0, depth=12.0, width=4.0, run=U))
    maker.cut(Surface.FACE_EDGE, 450.0, 0.0, Slot(length=30.0, width=8.0, depth=20.0, run=U))
    return maker.done()


ALL = {"side": side, "pin side": pin_side, "shelf": shelf, "three marks": three_marks, "every kind": every_kind}
