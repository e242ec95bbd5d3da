"""How a tool is set: stages of the work, hands, lines to mark, packers, settings."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Final

from storyrod.measure.writing import LengthWriter
from storyrod.model.feed import Feed
from storyrod.model.workshop import Along, Registration, ToolKind


class WorkStage(StrEnum):
    """What is done in a set-up, in the order in which a panel meets it."""

    CUT = "cut"
    EDGE = "edge"
    MARK = "mark out"
    MACHINE = "machine"
    FIT = "fit connectors"
    IN_PLACE = "bore in place"


class Hand(StrEnum):
    """Which way round a jig or tool lies: as drawn, or turned over for the mirrored part."""

    AS_DRAWN = "as drawn"
    TURNED = "turned over"


class PackerSide(StrEnum):
    """What a packer lies under or between."""

    NONE = "none"
    WORK = "under the work"
    TOOL = "under the tool"
    FENCE = "between fence and work"
    LINE = "between line and fence"


class LineToMark(StrEnum):
    """The line that must be on the panel before the tool is placed."""

    NONE = "none"
    FACE_LINE = "face line"
    CENTRE_LINE = "centre line"
    CENTRES = "centres"
    WALLS = "both walls"


THIN_PACKER: Final = 1.0
"""Thinner packers (mm) are not milled but pasted up; common practice, no source."""

LEAST_PACKER: Final = 0.3
"""Nothing thinner (mm) is laid loose: it is left out where both halves of a joint shift alike, else tape is stuck on;
common practice, no source."""

TAPE: Final = 0.13
"""A layer of masking tape is about so thick (mm); from memory, rolls differ."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PackerStack:
    """What makes up a thickness: packers on the shelf, or one to be milled.

    Attributes:
        wanted: the thickness asked for.
        pieces: the packers taken, the thickest first; empty for none at all.
        mill: the thickness to mill, to 0.1 mm (0.05 under 1 mm), where the shelf has nothing that comes within 0.1 mm.
    """

    wanted: float
    pieces: tuple[float, ...] = ()
    mill: float | None = None

    @property
    def made(self) -> float:
        """The thickness that results."""
        return self.mill if self.mill is not None else sum(self.pieces)

    def told(self, lengths: LengthWriter) -> str:
        """Return what makes it up: `0.5 + 1`, `none`, `mill one to 7.4`, `paste up paper or veneer to 0.55`,
        or `no packer: tape 0.15 thick`.

        A packer on the shelf has its trade size; what is milled is set in the job's unit.
        """
        if self.mill is None:
            return " + ".join(lengths.bought_n(p) for p in self.pieces) or "none"
        if self.mill < THIN_PACKER:
            if self.wanted < LEAST_PACKER:
                return f"no packer: tape {lengths.n(self.mill)} thick"
            return f"build up paper or veneer to {lengths.n(self.mill)}"
        return f"mill one to {lengths.n(self.mill)}"

    @property
    def error(self) -> float:
        """How far the result is from what was asked for, with its sign."""
        return self.made - self.wanted


class Wall(StrEnum):
    """Which wall of a channel a pass finishes; `OPEN` is the side of a rebate that has none."""

    BOTH = "both walls"
    NEAR = "near wall"
    FAR = "far wall"
    OPEN = "open edge"
    NONE = "between the walls"


@dataclass(frozen=True, slots=True, kw_only=True)
class SidePass:
    """One of the passes beside each other that make a channel wider than its cutter.

    Attributes:
        offset: from the channel's near wall, that toward the guide, to the near side of the cut.
        strip: what lies between straight edge and base in this pass, or None where the fence itself is moved.
    """

    offset: float
    wall: Wall
    strip: PackerStack | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """How a tool is set for one set-up.

    Attributes:
        way, tool, cutter: codes in the workshop; `cutter` is "" where the tool has its own.
        to_centre: whether a fence is set to the middle of what cuts, as of a drill; else to its near wall.
        cutter_diameter, cutter_width: what cuts; `cutter_width` of a disc or blade.
        bush: outside diameter of the guide bush, or None.
        bush_offset: from the cutter's wall to the bush's, `(bush - cutter) / 2`.
        opening: length along the line and width across it of the template's opening, or None.
        guide: thickness of the template or jig that the cutter reaches through; 0 where there is none.
        depth: of the cut below the panel's surface; `through` where it goes out at the other side.
        plunge: the depth stop: guide thickness and depth of cut together.
        reference_to_centre: from the tool's or jig's reference to the middle of the cut.
        wanted: from the panel's reference to the middle of the cut; `packer` is the difference.
        fence: from fence or straight edge to the near wall of the cut, or for a drill to its centre.
        beside: the passes of a channel beside each other, in the order in which none of them climbs.
        feed: which way tool or work goes, and what guides it.
        slope: length of a pocket along its axis, where it is bored at a slope; the depth stop is set to that.
        speed_rpm: highest speed to be used, by the cutter's mark and the chart; None for drills and saws.
        passes: how many passes, by depth and by width.
        jig: id of the jig, or "".
    """

    way: str
    way_name: str
    tool: str
    tool_name: str
    tool_kind: ToolKind
    registration: Registration
    along: Along
    cutter: str = ""
    cutter_name: str = ""
    to_centre: bool = field(default=False, repr=False)
    cutter_diameter: float = 0.0
    cutter_width: float | None = None
    bush: float | None = None
    bush_offset: float = 0.0
    opening: tuple[float, float] | None = None
    guide: float = 0.0
    depth: float = 0.0
    through: bool = False
    plunge: float = 0.0
    reference_to_centre: float | None = None
    wanted: float | None = None
    packer: PackerStack | None = None
    packer_side: PackerSide = PackerSide.NONE
    fence: float | None = None
    beside: tuple[SidePass, ...] = ()
    feed: Feed | None = None
    slope: float | None = None
    speed_rpm: int | None = None
    passes: tuple[int, int] = (1, 1)
    jig: str = ""
