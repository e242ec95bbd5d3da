"""How each joint's two panels stand to each other, as the line on the receiving panel says it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._length import Span
from storyrod_blind._paper import ENDS, Cut, JointId, Line, Paper
from storyrod_blind._what import CHANNELS, Kind

SAME = Fraction(5, 1000)
"""mm within which two printed figures are the same: far less than a rule shows, more than a sum of exact fractions."""
_PLAY = 2  # mm that a channel for a panel may be wider than the panel
_FAR = ("far face", "far edge", "far end")


@dataclass(frozen=True, slots=True)
class Seat:
    """How an entering panel stands on a receiving one.

    Attributes:
        line: the line on the receiving panel.
        across: the receiving panel's axis across the line (over the mate's thickness), `u` or `v`.
        along: its axis along the line.
        mate_along: the entering panel's axis along the line.
        sign: 1 where the mate's thickness (w) grows with the figures across the line, -1 where against them.
        nought: where the mate's face side is across the line, in mm.
        channel: the channel on the receiving panel that it stands in, if any.
        rebate: the rebate along the mate's own edge by which it stands there, if any.
    """

    line: Line
    across: str
    along: str
    mate_along: str
    sign: int
    nought: Fraction
    channel: Cut | None
    rebate: Cut | None

    @property
    def band(self) -> Span:
        """The stretch across the line."""
        return self.line.u if self.across == "u" else self.line.v

    @property
    def stretch(self) -> Span:
        """The stretch along the line."""
        return self.line.v if self.across == "u" else self.line.u

    @property
    def floats(self) -> bool:
        """Whether the mate has play in a groove and is held by nothing there."""
        return self.channel is not None and self.channel.what.kind is Kind.GROOVE


def surface_axis(surface: str) -> str:
    """Return the axis that a surface lies across."""
    return "w" if surface in ("face side", "far face") else "u" if surface in ENDS else "v"


def seats_of(paper: Paper) -> dict[JointId, Seat]:
    """Return how each joint's panels stand, for those whose lines are told."""
    return {line.joint: _seat(paper, line) for line in paper.lines if {line.mate, line.panel} <= set(paper.panels)}


def _seat(paper: Paper, line: Line) -> Seat:
    thickness = paper.panels[line.mate].thickness
    # The band as wide as the mate is thick is the one across; the face's line is one of its two ends.
    spans = {"u": line.u, "v": line.v}
    across = min(spans, key=lambda a: (line.face_at not in (spans[a].low.mm, spans[a].high.mm), spans[a].width))
    band = spans[across]
    at_low = line.face_at == band.low.mm
    is_face_side = line.face == "face side"
    sign = 1 if at_low == is_face_side else -1
    nought = line.face_at if is_face_side else line.face_at - sign * thickness
    return Seat(
        line=line,
        across=across,
        along="v" if across == "u" else "u",
        mate_along="u" if surface_axis(line.mate_surface) == "v" else "v",
        sign=sign,
        nought=nought,
        channel=_channel(paper, line, across, thickness),
        rebate=_rebate(paper, line) if thickness - band.width > SAME else None,
    )


def _channel(paper: Paper, line: Line, across: str, thickness: Fraction) -> Cut | None:
    """Return the channel that runs along the line on the receiving panel's face, with the line's middle in it."""
    band, along = (line.u, line.v) if across == "u" else (line.v, line.u)
    for cut in paper.cuts_of(line.panel):
        wall, run = (cut.u, cut.v) if across == "u" else (cut.v, cut.u)
        if cut.what.kind not in CHANNELS or cut.surface != line.surface or wall is None or run is None:
            continue
        if cut.joint not in (None, line.joint) or wall.width > thickness + _PLAY:
            continue
        over = min(run.high.mm, along.high.mm) - max(run.low.mm, along.low.mm)
        if wall.low.mm < band.middle < wall.high.mm and over > 0:
            return cut
    return None


def _rebate(paper: Paper, line: Line) -> Cut | None:
    """Return the mate's rebate along the edge with which it meets."""
    mate = paper.panels[line.mate]
    axis = surface_axis(line.mate_surface)
    end = (mate.length if axis == "u" else mate.width) if line.mate_surface in _FAR else Fraction(0)
    for cut in paper.cuts_of(line.mate):
        place: Span | None = getattr(cut, axis)
        if cut.what.kind is not Kind.REBATE or place is None or end not in (place.low.mm, place.high.mm):
            continue
        if place.width <= cut.what.sizes["width"].mm + _PLAY:  # it lies along that edge, not across it
            return cut
    return None


def reach_of(paper: Paper, seat: Seat) -> Fraction:
    """Return where the mate meets, along its axis across the meeting surface: that surface, or its rebate's wall."""
    line, mate = seat.line, paper.panels[seat.line.mate]
    axis = surface_axis(line.mate_surface)
    is_far = line.mate_surface in _FAR
    if seat.rebate is not None:
        wall: Span = getattr(seat.rebate, axis)
        return wall.low.mm if is_far else wall.high.mm
    return (mate.length if axis == "u" else mate.width) if is_far else Fraction(0)


def check_lines(paper: Paper, seats: dict[JointId, Seat]) -> Iterator[Finding]:
    """Yield joints without a line, lines not as far apart as the mate is thick, and backs too large for a rebate."""
    for joint, told in paper.joints.items():
        name = f"{joint[0]} {joint[1]}"
        if joint not in seats:
            words = f"{told.entering} on {told.receiving}: no line says where"
            yield Finding(FindingKind.JOINT_UNTOLD, name, words)
            continue
        seat = seats[joint]
        thickness = paper.panels[seat.line.mate].thickness
        words = f"{seat.line.mate} on {seat.line.panel}"
        aside = min(abs(seat.line.face_at - end.mm) for end in (seat.band.low, seat.band.high))
        if aside > SAME:
            yield Finding(FindingKind.LINE_OFF, name, f"{words}: its {seat.line.face} is on neither line", float(aside))
        if seat.rebate is None:
            off = seat.band.width - thickness
            if abs(off) > SAME:
                yield Finding(FindingKind.LINE_OFF, name, words, float(off))
        else:
            yield from _in_rebate(paper, seat, name)


def _in_rebate(paper: Paper, seat: Seat, name: str) -> Iterator[Finding]:
    """Yield a panel whose edge would stand in the floor of the rebate that its mate has for it."""
    rebate, host = seat.rebate, paper.panels[seat.line.panel]
    mate = paper.panels[seat.line.mate]
    assert rebate is not None  # noqa: S101  # asked for by the caller
    if "depth" not in rebate.what.sizes:
        return
    depth = rebate.what.sizes["depth"].mm
    w = depth if rebate.surface == "face side" else mate.thickness - depth
    floor = seat.nought + seat.sign * w
    size = host.length if seat.across == "u" else host.width
    # The floor lies beyond the nearer end of the panel in the rebate, or it does not go in.
    over = floor if floor < size / 2 else size - floor
    if over > SAME:
        yield Finding(FindingKind.BACK_TIGHT, name, f"{host.mark} in the rebate of {mate.mark}", float(over))
