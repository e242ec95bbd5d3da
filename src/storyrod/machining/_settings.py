"""Settings: where the tool stands, how deep it goes, and the packer that lines it up."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.machining._choose import Made
from storyrod.machining._feed import feed_of, passes_beside
from storyrod.machining._jigs import Jigs, is_free
from storyrod.machining._minutes import side_passes
from storyrod.machining._nouns import cutter_words
from storyrod.machining._packers import NEAR, stack_packers, taped
from storyrod.machining._speed import highest_rpm
from storyrod.measure.writing import LengthWriter
from storyrod.model.feature import AngledPocket, Channel, Hole, Keyhole, UndercutSlot
from storyrod.model.joint import JointId
from storyrod.model.machining import (
    LEAST_PACKER,
    JigKind,
    JigPlan,
    LineToMark,
    PackerSide,
    PackerStack,
    SectionData,
    Setting,
)
from storyrod.model.workshop import Along, CutterKind, Registration, ToolKind, Workshop
from storyrod.trade.bush import near_wall_from_base, packer_for_base, plunge

LOOSE: Final = 0.5
"""How near a packer must come where no fit hangs on it, as for screws (mm); common practice, no source."""


SMALL_CUTTER: Final = 6.0
SMALL_PASS: Final = 3.0
"""Deepest pass of a router with a cutter up to the small one (mm); of others the workshop says it, and it is never over
half the diameter. Common practice, no source."""

INTO_SPOIL: Final = 1.0
"""What the last pass of a cut through the board goes into the spoil board (mm); common practice, no source."""

_SAME_PLACE: Final = 0.01  # mm: a reference's distance and a mark differ by what the mark was rounded across its board

_BLADES: Final = (ToolKind.DISC_CUTTER, ToolKind.TABLE_SAW, ToolKind.TRACK_SAW)
BY_LINE: Final = (ToolKind.HAND_SAW, ToolKind.JIGSAW)
"""Tools that follow a line by eye: they have no stop for depth and no section to draw."""

_TABLES: Final = (ToolKind.ROUTER_TABLE, ToolKind.TABLE_SAW)
_ROUTERS: Final = (ToolKind.ROUTER, ToolKind.ROUTER_TABLE)


@dataclass(frozen=True, slots=True)
class Placed:
    """A need with its setting, and the mode in which it is placed: edge, end or line."""

    made: Made
    setting: Setting
    mode: str
    jig: JigPlan | None


class Setter:
    """Works out settings; packers and speeds of equal figures once."""

    def __init__(self, workshop: Workshop, jigs: Jigs, made: Sequence[Made] = ()) -> None:
        self.workshop = workshop
        self.jigs = jigs
        self.plans = {p.id: p for p in jigs.plans}
        self.stacks: dict[tuple[float, float], PackerStack] = {}
        self.alike = _halves_alike(made)
        self.known: dict[tuple[object, ...], Setting] = {}

    def place(self, made: Made) -> Placed:
        """Return a need with its setting; equal settings are one and the same object."""
        use = self.jigs.uses.get(id(made.need))
        jig = self.plans[use.jig] if use else None
        mode = _mode(made)
        setting = self._setting(made, jig, mode)
        key = (setting_key(setting, made.need.lengths), mode)
        return Placed(made, self.known.setdefault(key, setting), mode, jig)

    def _setting(self, made: Made, jig: JigPlan | None, mode: str) -> Setting:
        choice, need, shape = made.choice, made.need, made.need.first
        way, tool, cutter = choice.way, choice.tool, choice.cutter
        reference_to_centre, packer, side = self._across(made, jig, mode)
        routed = cutter is not None and tool.kind in (*_ROUTERS, ToolKind.NC_ROUTER)
        return Setting(
            way=way.code,
            way_name=way.name,
            tool=tool.code,
            tool_name=tool.name,
            tool_kind=tool.kind,
            registration=way.registration,
            along=way.along,
            cutter=cutter.code if cutter else "",
            cutter_name=cutter_words(cutter, need.lengths) if cutter else "",
            to_centre=cutter is not None and cutter.kind in (CutterKind.DRILL, CutterKind.STEPPED),
            cutter_diameter=cutter.diameter if cutter else _own_size(shape),
            cutter_width=cutter.width if cutter else None,
            bush=choice.bush.diameter if choice.bush else None,
            bush_offset=choice.offset,
            opening=choice.opening if jig is not None else None,
            guide=choice.guide,
            depth=round(shape.depth, 4),
            through=is_through(made),
            plunge=round(plunge(choice.guide, shape.depth), 4),
            reference_to_centre=reference_to_centre,
            wanted=made.reference.wanted if packer is not None else None,
            packer=packer,
            packer_side=side,
            fence=_fence(made),
            beside=passes_beside(choice, shape, self.workshop),
            feed=feed_of(choice, shape),
            slope=shape.length if isinstance(shape, AngledPocket) else None,
            speed_rpm=highest_rpm(cutter.diameter, cutter.max_rpm) if routed and cutter else None,
            passes=_passes(made, self.workshop.deepest_pass),
            jig=jig.id if jig else "",
        )

    def _across(
        self, made: Made, jig: JigPlan | None, mode: str
    ) -> tuple[float | None, PackerStack | None, PackerSide]:
        """Return the reference's distance to the middle of the cut, and the packer that makes up the difference."""
        wanted = made.reference.wanted
        if jig is not None:
            if jig.kind is JigKind.TEMPLATE:
                return None, None, PackerSide.NONE
            if jig.line_ups:  # each thickness of board has its own line-up mark
                return wanted, None, PackerSide.NONE
            stack = self._stack(jig.reference - wanted)
            return jig.reference, stack, _side(stack, PackerSide.LINE if mode == "line" else PackerSide.FENCE)
        way, tool = made.choice.way, made.choice.tool
        if way.registration not in (Registration.FENCE, Registration.BASE):
            return None, None, PackerSide.NONE
        base = tool.base_to_centre if tool.base_to_centre is not None else wanted
        under = packer_for_base(base, wanted)
        stack = self._stack(abs(under), near=NEAR if made.need.locates else LOOSE)
        if _is_thin(under) and stack.made > 0:
            alike = self._shifts_alike(made)
            stack = PackerStack(wanted=stack.wanted) if alike else taped(stack.wanted)
        if mode == "line":
            side = PackerSide.LINE
        elif way.registration is Registration.FENCE:
            side = PackerSide.FENCE
        else:
            side = PackerSide.WORK if under >= 0 else PackerSide.TOOL
        return base, stack, _side(stack, side)

    def _shifts_alike(self, made: Made) -> bool:
        """Return whether both halves of a joint are off by the same from the same face, so that they still meet."""
        joint = made.need.joint
        return joint is not None and made.reference.same_face and joint.id in self.alike

    def _stack(self, wanted: float, near: float = NEAR) -> PackerStack:
        key = (round(max(wanted, 0.0), 6), near)
        if key not in self.stacks:
            self.stacks[key] = stack_packers(key[0], self.workshop.packers, near)
        return self.stacks[key]


def _halves_alike(made: Sequence[Made]) -> frozenset[JointId]:
    """Return the joints of which both halves are made by one tool in one way, from the same face.

    Of two halves that differ by a thousandth, one may want a packer that is thick enough to be laid and the other not:
    they do not shift alike.
    """
    ways: dict[JointId, set[tuple[str, str, bool, bool]]] = {}
    for m in made:
        if m.need.joint is not None and m.need.locates:
            base = m.choice.tool.base_to_centre
            thin = base is not None and _is_thin(packer_for_base(base, m.reference.wanted))
            key = (m.choice.way.code, m.choice.tool.code, m.reference.same_face, thin)
            ways.setdefault(m.need.joint.id, set()).add(key)
    return frozenset(j for j, found in ways.items() if len(found) == 1)


def _is_thin(under: float) -> bool:
    """Return whether a packer would be too thin to be laid loose (mm)."""
    return NEAR < abs(under) < LEAST_PACKER


def _side(stack: PackerStack, side: PackerSide) -> PackerSide:
    return side if stack.made > 0 else PackerSide.NONE


def _mode(made: Made) -> str:
    if is_free(made):
        return "line"
    return "edge" if made.need.on_edge else "end"


def _own_size(shape: object) -> float:
    return float(getattr(shape, "width", 0.0) or getattr(shape, "diameter", 0.0))


def _fence(made: Made) -> float | None:
    """Return where fence or straight edge stands: to the near wall of a channel, to the centre of a drill.

    It is the figure that is printed, in the unit of the job, and what the printed places of the cut give: the wall as
    printed, or from the far edge the panel's printed size less it.
    """
    choice, need, shape = made.choice, made.need, made.need.first
    printed, wanted = need.lengths.printed, made.reference.wanted
    if choice.way.registration is Registration.EDGE:
        half = shape.width / 2 if isinstance(shape, Channel) else 0.0
        if abs(wanted - need.at) <= _SAME_PLACE:
            return printed(max(0.0, printed(need.at - half)))
        extent = need.panel.extent(need.across)
        if abs(extent - wanted - need.at) <= _SAME_PLACE:
            return printed(max(0.0, printed(extent) - printed(need.at + half)))
        return printed(max(0.0, wanted - half))
    if choice.way.registration is Registration.LINE and choice.cutter and choice.tool.base_half is not None:
        return printed(near_wall_from_base(choice.tool.base_half, choice.cutter.diameter))
    return None


def _passes(made: Made, cap: float) -> tuple[int, int]:
    """Return passes one under another, and beside each other."""
    cutter, shape = made.choice.cutter, made.need.first
    beside = side_passes(made.choice, shape) if isinstance(shape, Channel) else 1
    if cutter is None or made.choice.tool.kind not in _ROUTERS or isinstance(shape, Keyhole | UndercutSlot):
        return 1, beside
    depth = shape.depth + (INTO_SPOIL if is_through(made) else 0.0)
    return max(1, math.ceil(depth / deepest_pass(cutter.diameter, cap) - 1e-9)), beside


def is_through(made: Made) -> bool:
    """Return whether a cut goes through the board."""
    return bool(getattr(made.need.first, "through", False)) or made.need.kind == "cut-out"


def deepest_pass(diameter: float, cap: float) -> float:
    """Return the deepest pass of a router's cutter: half its diameter, and not over the cap."""
    small = min(cap, SMALL_PASS) if diameter <= SMALL_CUTTER else cap
    return min(diameter / 2, small)


def setting_key(s: Setting, lengths: LengthWriter) -> tuple[object, ...]:
    """Return what tells one setting from another: everything that must be changed at the tool.

    Lengths are those that are printed: what reads the same is set the same.
    """
    printed = lengths.printed
    packer = (s.packer.pieces, s.packer.mill) if s.packer else ()
    return (
        *(s.way, s.tool, s.cutter, s.bush, printed(s.plunge), s.through, s.jig, packer, s.packer_side),
        *(s.fence, s.passes, tuple(p.offset for p in s.beside), s.opening),
        *(s.feed.kind if s.feed else "", printed(s.reference_to_centre or 0.0) if s.packer is None else 0.0),
    )


def line_of(placed: Placed) -> tuple[LineToMark, float | None]:
    """Return the line that must be on the panel before this is placed, and where it runs."""
    made = placed.made
    way, need = made.choice.way, made.need
    if way.registration in (Registration.MATE, Registration.PROGRAM):
        return LineToMark.NONE, None
    if placed.jig is not None and placed.jig.kind is JigKind.TEMPLATE:
        return LineToMark.CENTRES, round(need.at, 3)
    if way.registration is Registration.LINE:
        return LineToMark.WALLS, round(need.at, 3)
    if way.registration is Registration.MARK:
        return LineToMark.CENTRES, round(need.at, 3)
    if placed.mode == "line":
        return LineToMark.FACE_LINE, made.reference.line_at
    if way.along is Along.MARKS:
        return LineToMark.CENTRE_LINE if way.registration is Registration.EDGE else LineToMark.CENTRES, None
    return LineToMark.NONE, None


def section_of(placed: Placed) -> SectionData | None:
    """Return the figures of the section drawing of a set-up, taken from its first operation; None for sawing by hand.

    What a saw does in the hand is seen from above, in the plan of its feed.
    """
    made, setting = placed.made, placed.setting
    if setting.tool_kind in BY_LINE:
        return None
    shape, need = made.need.first, made.need
    across = setting.opening[1] if setting.opening else None
    by_edge = setting.registration is Registration.EDGE
    cut = setting.cutter_diameter
    if isinstance(shape, Hole):
        cut = shape.diameter
    elif isinstance(shape, Channel):
        cut = shape.width
    elif setting.cutter_width is not None and setting.tool_kind in _BLADES:
        cut = setting.cutter_width
    return SectionData(
        on_edge=need.on_edge,
        board=need.panel.thickness,
        reference_at_end=made.reference.at_end,
        depth=shape.depth,
        cutter=cut,
        centre=_centre(placed) if _has_reference(placed) else None,
        fence=setting.registration in (Registration.FENCE, Registration.EDGE, Registration.BASE),
        guide=setting.guide if setting.jig or setting.registration is Registration.MATE else 0.0,
        bush=setting.bush,
        opening=across,
        packer=setting.packer.made if setting.packer else 0.0,
        reference_to_centre=setting.reference_to_centre,
        through=setting.through,
        undercut=getattr(shape, "undercut_width", None),
        lip=getattr(shape, "lip", None),
        base=setting.registration is Registration.BASE,
        mate=setting.registration is Registration.MATE,
        near_wall=setting.fence if by_edge and isinstance(shape, Channel) else None,
        straight_edge=setting.fence if setting.registration is Registration.LINE else None,
        open_edge=need.kind == "rebate",
        below=setting.tool_kind in _TABLES,
        slant_deg=getattr(shape, "angle_deg", None),
        slant_length=shape.length if isinstance(shape, AngledPocket) else 0.0,
        pilot=shape.pilot if isinstance(shape, AngledPocket) else 0.0,
    )


def _centre(placed: Placed) -> float:
    """Return from the reference to the middle of the cut: by the fence, or the tool's own where no packer is laid."""
    setting, wanted, shape = placed.setting, placed.made.reference.wanted, placed.made.need.first
    if setting.registration is Registration.EDGE and setting.fence is not None:
        return setting.fence + (shape.width / 2 if isinstance(shape, Channel) else 0.0)
    packer, base = setting.packer, setting.reference_to_centre
    left_out = packer is not None and packer.made == 0 and base is not None and not setting.jig
    return base if left_out and base is not None else wanted


def _has_reference(placed: Placed) -> bool:
    """Return whether the cut stands at a distance that is set, not at a mark."""
    by_mark = (Registration.MARK, Registration.MATE, Registration.PROGRAM, Registration.LINE)
    return placed.setting.registration not in by_mark
