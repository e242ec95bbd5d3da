"""Where each panel comes to lie when the joints are closed as printed, panel upon panel.

The first panel of a body lies as it is drawn; each further one is put to the lines of one joint, and every other joint
between panels that lie already shows by how much the cabinet as built does not close.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._mates import places_of, shift_of
from storyrod_blind._paper import ENDS, JointId, Panel, Paper
from storyrod_blind._seats import SAME, Seat, reach_of, surface_axis

AXES = "uvw"
Vector = tuple[Fraction, Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Pose:
    """Where a panel lies in its body: for u, v and w, the body's axis and its sense; and where its nought lies."""

    axes: tuple[tuple[int, int], tuple[int, int], tuple[int, int]]
    at: Vector

    def point(self, u: Fraction, v: Fraction, w: Fraction) -> Vector:
        """Return a point of the panel in the body."""
        out = list(self.at)
        for value, (axis, sign) in zip((u, v, w), self.axes, strict=True):
            out[axis] += sign * value
        return out[0], out[1], out[2]

    def box(self, panel: Panel) -> tuple[Vector, Vector]:
        """Return the panel's box in the body."""
        return self.region((Fraction(0), panel.length), (Fraction(0), panel.width), (Fraction(0), panel.thickness))

    def region(
        self, u: tuple[Fraction, Fraction], v: tuple[Fraction, Fraction], w: tuple[Fraction, Fraction]
    ) -> tuple[Vector, Vector]:
        """Return the box that a stretch of u, v and w fills in the body."""
        one, other = self.point(u[0], v[0], w[0]), self.point(u[1], v[1], w[1])
        low = tuple(min(a, b) for a, b in zip(one, other, strict=True))
        high = tuple(max(a, b) for a, b in zip(one, other, strict=True))
        return (low[0], low[1], low[2]), (high[0], high[1], high[2])


@dataclass(frozen=True, slots=True)
class Body:
    """Panels that joints hold together, each in its place.

    Attributes:
        unplaced: those that the paper leaves free one way.
        figures: of how many printed figures the place of each is a sum, along any one axis, at most.
    """

    poses: dict[str, Pose]
    unplaced: set[str]
    figures: dict[str, int]

    @property
    def most_figures(self) -> int:
        """How many printed figures lie between two of its panels at most."""
        return 2 * max(self.figures.values())


def build_bodies(paper: Paper, seats: dict[JointId, Seat]) -> tuple[list[Body], list[Finding]]:
    """Return the bodies that the joints make of the panels, and every joint that does not close as printed."""
    bodies: list[Body] = []
    findings: list[Finding] = []
    placed: set[str] = set()
    for mark in sorted(paper.panels, key=lambda m: (not paper.panels[m].hand, len(m), m)):
        if mark in placed or not paper.panels[mark].hand:
            continue
        body = _grow(paper, seats, mark, findings)
        placed |= set(body.poses)
        bodies.append(body)
    return bodies, findings


def _grow(paper: Paper, seats: dict[JointId, Seat], first: str, findings: list[Finding]) -> Body:
    """Return the body that grows from one panel: by firm joints as far as they go, then by those with play."""
    start = Pose(axes=((0, 1), (1, 1), (2, paper.panels[first].hand)), at=_ORIGIN)
    body = Body({first: start}, set(), {first: 0})
    open_joints = dict(seats)
    while True:
        ready = [s for s in open_joints.values() if s.line.panel in body.poses or s.line.mate in body.poses]
        if not ready:
            return body
        seat = min(ready, key=lambda s: (s.floats, not _is_sure_along(paper, s)))
        del open_joints[seat.line.joint]
        mine, mate = body.poses.get(seat.line.panel), body.poses.get(seat.line.mate)
        if mine is not None and mate is not None:
            between = body.figures[seat.line.panel] + body.figures[seat.line.mate] + _A_SEAT
            findings += (replace(f, figures=between) for f in _closes(paper, seat, mine, mate))
        elif mine is not None:
            body.poses[seat.line.mate] = _seated(paper, seat, mine)
            body.figures[seat.line.mate] = body.figures[seat.line.panel] + _A_SEAT
            if seat.floats:
                _overhangs(paper, seats, seat.line.mate, body, findings)
                _centre(paper, seats, seat.line.mate, body, findings)
        elif mate is not None:
            body.poses[seat.line.panel] = _under(paper, seat, mate)
            body.figures[seat.line.panel] = body.figures[seat.line.mate] + _A_SEAT


def _overhangs(paper: Paper, seats: dict[JointId, Seat], mate: str, body: Body, findings: list[Finding]) -> None:
    """Tell a panel in grooves alone that runs past them, without a word at which end."""
    over: list[Fraction] = []
    for seat in seats.values():
        if seat.line.panel == mate or (seat.line.mate == mate and not seat.floats):
            return  # held by something firm as well
        if seat.line.mate == mate:
            size = paper.panels[mate].length if seat.mate_along == "u" else paper.panels[mate].width
            over.append(size - seat.stretch.width)
    if all((s.line.panel, s.line.joint) in paper.past for s in seats.values() if s.line.mate == mate):
        return
    across = {s.mate_along for s in seats.values() if s.line.mate == mate}
    if len(across) == 1 and max(over) > _OVERHANG:
        body.unplaced.add(mate)
        words = f"{paper.panels[mate].name} runs past the grooves that hold it; nothing says at which end"
        findings.append(Finding(FindingKind.PANEL_UNPLACED, mate, words))


def _centre(paper: Paper, seats: dict[JointId, Seat], mate: str, body: Body, findings: list[Finding]) -> None:
    """Put a panel that has play in grooves in the middle between their floors; tell it where it is too large."""
    lows: dict[int, Fraction] = {}
    highs: dict[int, Fraction] = {}
    for seat in seats.values():
        host = body.poses.get(seat.line.panel)
        if seat.line.mate != mate or not seat.floats or host is None:
            continue
        at_floor = _seated(paper, seat, host)
        axis, sense = host.axes[2]
        inward = sense if seat.line.surface == "face side" else -sense
        if inward > 0:
            highs[axis] = min(highs.get(axis, at_floor.at[axis]), at_floor.at[axis])
        else:
            lows[axis] = max(lows.get(axis, at_floor.at[axis]), at_floor.at[axis])
    at = list(body.poses[mate].at)
    for axis in range(3):
        low, high = lows.get(axis), highs.get(axis)
        if low is not None and high is not None:
            at[axis] = (low + high) / 2
            if low - high > SAME:
                findings.append(Finding(FindingKind.BACK_TIGHT, mate, "between its grooves", float(low - high)))
        elif low is not None or high is not None:
            at[axis] = low if low is not None else high or Fraction(0)
    body.poses[mate] = Pose(body.poses[mate].axes, (at[0], at[1], at[2]))


_A_SEAT = 2
"""Printed figures that the place of a panel on another is a sum of, along one axis: a line and the thickness beside it,
or a mark on each, or a depth and the thickness that is left."""
_OVERHANG = 5  # mm by which a panel may be longer than the grooves that hold it, at both ends together
_ORIGIN: Vector = (Fraction(0), Fraction(0), Fraction(0))


def _relation(paper: Paper, seat: Seat) -> Pose:
    """Return where the entering panel lies in the frame of the receiving one, as the line and the marks have it."""
    line, host = seat.line, paper.panels[seat.line.panel]
    normal = surface_axis(line.mate_surface)
    far = line.mate_surface.startswith("far")
    # The meeting surface looks into the receiving panel: w grows down from its face side, and up from its far face.
    into = 1 if line.surface == "face side" else -1
    depth = seat.channel.what.sizes["depth"].mm if seat.channel and "depth" in seat.channel.what.sizes else Fraction(0)
    floor = depth if into == 1 else host.thickness - depth
    sign, shift = _lie_along(paper, seat)
    sense: dict[str, tuple[int, int]] = {
        "w": (AXES.index(seat.across), seat.sign),
        normal: (2, into if far else -into),
        seat.mate_along: (AXES.index(seat.along), sign),
    }
    at = [Fraction(0)] * 3
    at[AXES.index(seat.across)] = seat.nought
    at[AXES.index(seat.along)] = shift
    at[2] = floor - sense[normal][1] * reach_of(paper, seat)
    return Pose((sense["u"], sense["v"], sense["w"]), (at[0], at[1], at[2]))


def _is_sure_along(paper: Paper, seat: Seat) -> bool:
    """Whether the paper says where the mate lies along the line: by marks, or by a stretch as long as the mate is."""
    mate = paper.panels[seat.line.mate]
    size = mate.length if seat.mate_along == "u" else mate.width
    return bool(places_of(paper, seat)) or abs(seat.stretch.width - size) <= SAME


def _lie_along(paper: Paper, seat: Seat) -> tuple[int, Fraction]:
    """Return how the mate lies along the line: by its marks, or else by where its stretch begins."""
    places = places_of(paper, seat)
    if len(places) > 1:
        return shift_of(places)
    if places:
        return 1, places[0][0] - places[0][1]
    stretch, mate = seat.stretch, paper.panels[seat.line.mate]
    past = paper.past.get((seat.line.panel, seat.line.joint), {})
    for surface, by in past.items():
        if not surface.startswith("far"):
            return 1, -by
        host = paper.panels[seat.line.panel]
        room = host.length if seat.along == "u" else host.width
        return 1, room + by - (mate.length if seat.mate_along == "u" else mate.width)
    if seat.line.mate_surface in ENDS:
        return 1, stretch.low.mm
    size = mate.length if seat.mate_along == "u" else mate.width
    return 1, stretch.low.mm + (stretch.width - size) / 2  # let in at both ends alike


def _seated(paper: Paper, seat: Seat, host: Pose) -> Pose:
    """Return where the entering panel lies in the body."""
    relation = _relation(paper, seat)
    axes = tuple((host.axes[a][0], host.axes[a][1] * s) for a, s in relation.axes)
    return Pose((axes[0], axes[1], axes[2]), host.point(*relation.at))


def _under(paper: Paper, seat: Seat, mate: Pose) -> Pose:
    """Return where the receiving panel lies in the body, from where the entering one does."""
    relation = _relation(paper, seat)
    back: list[tuple[int, int]] = [(0, 1)] * 3
    for own, (axis, sign) in enumerate(relation.axes):
        back[axis] = (mate.axes[own][0], mate.axes[own][1] * sign)
    loose = Pose((back[0], back[1], back[2]), _ORIGIN)
    lies = loose.point(*relation.at)
    at = tuple(a - b for a, b in zip(mate.at, lies, strict=True))
    return Pose(loose.axes, (at[0], at[1], at[2]))


def _closes(paper: Paper, seat: Seat, host: Pose, mate: Pose) -> Iterator[Finding]:
    """Yield by how much the mate, where it lies, is off the lines of this joint."""
    wanted = _seated(paper, seat, host)
    name = f"{seat.line.joint[0]} {seat.line.joint[1]}"
    turned = [n for n, (a, b) in enumerate(zip(wanted.axes, mate.axes, strict=True)) if a != b]
    if turned:
        words = f"{seat.line.mate} on {seat.line.panel}: its {', '.join(AXES[n] for n in turned)} would run otherwise"
        yield Finding(FindingKind.HAND_WRONG, name, words)
        return
    ways = {host.axes[2][0]: "off its seat", host.axes[AXES.index(seat.across)][0]: "off its lines"}
    for axis, (a, b) in enumerate(zip(mate.at, wanted.at, strict=True)):
        way = ways.get(axis, "along the joint")
        if seat.floats and way != "off its lines":
            continue  # it has play there; whether it goes in is looked at by its whole size
        if way == "along the joint" and not _is_sure_along(paper, seat):
            continue  # the line is shorter than the mate, and no mark says where along it
        if abs(a - b) > SAME:
            words = f"{seat.line.mate} on {seat.line.panel}, {way}"
            yield Finding(FindingKind.PANEL_BETWEEN_LINES, name, words, float(a - b))


def check_hands(paper: Paper, seats: dict[JointId, Seat]) -> Iterator[Finding]:
    """Yield joints whose two panels would meet only if one of them were the other hand."""
    for joint, seat in seats.items():
        host, mate = paper.panels[seat.line.panel], paper.panels[seat.line.mate]
        if not host.hand or not mate.hand:
            continue
        if _turn(_relation(paper, seat)) * mate.hand != host.hand:
            words = f"{mate.mark} on {host.mark}: one of them would have to be the other hand"
            yield Finding(FindingKind.HAND_WRONG, f"{joint[0]} {joint[1]}", words)


def _turn(pose: Pose) -> int:
    """Return 1 where a pose only turns a panel, -1 where it mirrors it: the determinant of its axes."""
    order = tuple(axis for axis, _ in pose.axes)
    even = order in ((0, 1, 2), (1, 2, 0), (2, 0, 1))
    signs = pose.axes[0][1] * pose.axes[1][1] * pose.axes[2][1]
    return signs if even else -signs
