"""Where fronts and boxes go in a case: its ways, the gaps that steps name, and the poses that come of them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from storyrod_blind._fits import Carcass
from storyrod_blind._length import LENGTH, read_length
from storyrod_blind._paper import Panel, Paper
from storyrod_blind._poses import Pose, Vector

_FACE = rf", its face (?:flush with|(?P<back>{LENGTH}) behind) the front edges"
UNEVEN = (
    rf"; at the case's outside (?P<top>{LENGTH}) at the top, (?P<base>{LENGTH}) at the base, "
    rf"(?P<left>{LENGTH}) at the left, (?P<right>{LENGTH}) at the right"
)
SIDES = ("top", "base", "left", "right")
_AIM = re.compile(
    rf"\ba gap of (?:(?P<inset>{LENGTH}) all round|(?P<gap>{LENGTH}) to its neighbours)"
    rf"(?:, (?P<reveal>{LENGTH}) at the case's outside|{UNEVEN})?(?:{_FACE})?"
)
_FACE_SAID = "its face "
_LAP = re.compile(rf"\bAim for [^:]*?a lap of ({LENGTH}) over ")

_FLUSH = Fraction(1, 2)
"""mm by which a panel may end short of the case's outside and still be at it: a back ends there to the last digit."""
_FRONT_RAIL = "front rail"

Span = tuple[Fraction, Fraction]
Way = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Aim:
    """The gaps round a front: `gap` to its neighbours, `reveal` at the outside; an inset one has `gap` all round.

    Where the case's sides differ, `outside` has the gap or reveal at each of `SIDES`. `back` is how far the face of an
    inset one stands behind the front edges of the sides, None where nobody says it; `lap` how much of a door lies over
    the panel that it hangs on.
    """

    gap: Fraction
    reveal: Fraction | None
    back: Fraction | None = None
    lap: Fraction | None = None
    outside: Mapping[str, Fraction] = field(default_factory=dict)

    def begin(self, panel: Span, outer: Fraction, side: str) -> Fraction:
        """Return where a front begins over or beside the panel that bounds its opening on a side, from the case out."""
        is_outside = panel[0] <= outer + _FLUSH
        own = self.outside.get(side) if is_outside else None
        if self.reveal is None:
            return panel[1] + (self.gap if own is None else own)
        if is_outside:
            return panel[0] + (self.reveal if own is None else own)
        return (panel[0] + panel[1] + self.gap) / 2

    def end(self, panel: Span, outer: Fraction, side: str) -> Fraction:
        """Return where a front ends, at the panel that bounds its opening from above or the right."""
        return -self.begin((-panel[1], -panel[0]), -outer, side)


def aims_of(paper: Paper, case: str) -> dict[str, Aim]:
    """Return the gaps of each front by its mark: those of its own step, or of the step that it goes like."""
    found: dict[str, Aim] = {}
    last: Aim | None = None
    for step in (s for s in paper.steps if s.case == case):
        match = _AIM.search(step.words)
        if match is not None and not step.body:
            own = match["inset"] or match["gap"]
            outside = {s: read_length(match[s], paper.unit).mm for s in SIDES if match[s]}
            reveal = read_length(match["reveal"], paper.unit).mm if match["reveal"] else None
            if match["gap"] and outside:
                reveal = outside["top"]
            flush = Fraction(0) if _FACE_SAID in match[0] else None
            back = read_length(match["back"], paper.unit).mm if match["back"] else flush
            lap = _LAP.search(step.words)
            last = Aim(
                gap=read_length(own, paper.unit).mm,
                reveal=reveal,
                back=back,
                lap=read_length(lap[1], paper.unit).mm if lap else None,
                outside=outside,
            )
        if last is not None and (match is not None or step.body):
            found |= dict.fromkeys(re.findall(r"\b[A-Z]+\d+\b", step.title), last)
    return found


@dataclass(frozen=True, slots=True)
class Frame:
    """The ways of a case in its carcass's body, and where the carcass ends across it and up it."""

    carcass: Carcass
    outer: Mapping[str, Span]
    fore: Fraction

    def pose(self, ways: tuple[str, str, str], at: Mapping[str, Fraction]) -> Pose:
        """Return a pose whose u, v and w run along the ways named, its nought at a place of the case."""
        axes = [self._way(w) for w in ways]
        place = [Fraction(0)] * 3
        for name, value in at.items():
            axis, sign = self._way(name)
            place[axis] = sign * value
        return Pose((axes[0], axes[1], axes[2]), (place[0], place[1], place[2]))

    def span(self, pose: Pose, panel: Panel, way: str) -> Span:
        """Return from where to where a panel in the carcass's body reaches along a way."""
        axis = self._way(way)
        low, high = (self.carcass.at(end, axis) for end in pose.box(panel))
        return (low, high) if low < high else (high, low)

    def along(self, place: Vector, way: str) -> Fraction:
        """Return how far along a way a place of the carcass's body lies."""
        return self.carcass.at(place, self._way(way))

    def is_thin(self, pose: Pose, way: str) -> bool:
        """Return whether a panel is thin along a way: an upright along x, a level one along z."""
        return pose.axes[2][0] == self._way(way)[0]

    def is_level(self, pose: Pose, panel: Panel) -> bool:
        """Return whether a panel bounds openings from below or above: level, or a rail on edge at the front."""
        return self.is_thin(pose, "z") or (panel.name.endswith(_FRONT_RAIL) and self.is_thin(pose, "y"))

    def _way(self, name: str) -> Way:
        return {"x": self.carcass.across, "y": self.carcass.deep, "z": self.carcass.up}[name]

    def turned(self, ways: Mapping[int, tuple[str, int]], pose: Pose, by: Mapping[str, Fraction]) -> Pose:
        """Return a pose of another body, whose axes run along the ways given, in the carcass's body."""
        to = {own: (self._way(name)[0], self._way(name)[1] * sign) for own, (name, sign) in ways.items()}
        axes = tuple((to[axis][0], to[axis][1] * sign) for axis, sign in pose.axes)
        place = [Fraction(0)] * 3
        for own, value in enumerate(pose.at):
            place[to[own][0]] += to[own][1] * value
        for name, value in by.items():
            axis, sign = self._way(name)
            place[axis] += sign * value
        return Pose((axes[0], axes[1], axes[2]), (place[0], place[1], place[2]))


def frame_of(paper: Paper, carcass: Carcass) -> Frame:
    """Return the frame of a case."""
    plain = Frame(carcass, {}, Fraction(0))
    placed = [(m, p) for m, p in carcass.body.poses.items() if m not in carcass.body.unplaced]
    spans = {w: [plain.span(p, paper.panels[m], w) for m, p in placed] for w in "xz"}
    held = {w: _bounds(_thin(paper, plain, placed, w) or spans[w]) for w in "xz"}
    # Under a plinth's base there is more of the sides; over a shelf that no level top is above, there is more too.
    held["z"] = held["z"][0], _bounds(spans["z"])[1]
    left = next(m for m, _ in placed if paper.panels[m].name == "left side")
    return Frame(carcass, held, plain.span(carcass.body.poses[left], paper.panels[left], "y")[0])


def _thin(paper: Paper, frame: Frame, placed: Sequence[tuple[str, Pose]], way: str) -> list[Span]:
    """Return the spans of the panels that are thin along a way: uprights for x, level ones for z."""
    return [frame.span(p, paper.panels[m], way) for m, p in placed if frame.is_thin(p, way)]


def _bounds(spans: Sequence[Span]) -> Span:
    return min(s[0] for s in spans), max(s[1] for s in spans)
