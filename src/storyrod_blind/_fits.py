"""Whether what hangs, slides and lies in the built cabinet fits: outside, hinges, runners, pins, rails, drawers."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._length import LENGTH, MM_PER_INCH, Length, Unit, read_length
from storyrod_blind._paper import Cut, Panel, Paper
from storyrod_blind._poses import Body, Pose, Vector
from storyrod_blind._seats import SAME

_HINGE = re.compile(r"^hinge (\d+) of (.+)$")
_RUNNER = re.compile(r"^runner of (.+)$")
_SOCKET = re.compile(r"^socket of (.+)$")
_TUBE = re.compile(rf"\btube of (clothes rail \d+) to ({LENGTH})")
_TUBE_BOUGHT = re.compile(rf"\btube cut to ({LENGTH})")
_RAISED = re.compile(rf"\bfeet under .*?, and turn each to ({LENGTH})\.")
_SCRIBED = re.compile(rf"Scribe the rear edge of ([A-Z]+\d+)\b.*? to the wall: ({LENGTH}) of it")
_TUBE_SHORT = 60  # mm: a tube that is shorter than its opening by more lies in no socket
_PIN = re.compile(r"^.*\bpin of (.+)$")


@dataclass(frozen=True, slots=True)
class Carcass:
    """The body of a case that holds its left side, with the body's axes across, deep and up.

    The senses are those that grow from left to right, from front to back, from the floor up.
    """

    case: str
    body: Body
    across: tuple[int, int]
    deep: tuple[int, int]
    up: tuple[int, int]

    def at(self, place: Vector, way: tuple[int, int]) -> Fraction:
        """Return a coordinate of a place along a way."""
        return way[1] * place[way[0]]


def carcasses_of(paper: Paper, bodies: Sequence[Body]) -> Iterator[Carcass]:
    """Yield the carcass of each case: the body whose left side stands on its datum end, face edge in front."""
    for case in paper.cases:
        for body in bodies:
            left = next((m for m in body.poses if _is(paper, m, case, "left side")), None)
            if left is not None:
                u, v, w = body.poses[left].axes
                yield Carcass(case, body, across=(w[0], -w[1]), deep=v, up=u)
                break


def check_fits(paper: Paper, bodies: Sequence[Body]) -> Iterator[Finding]:
    """Yield all that does not fit."""
    for carcass in carcasses_of(paper, bodies):
        yield from _outside(paper, carcass)
        yield from _level(paper, carcass, _RUNNER, FindingKind.RUNNER_OFF)
        yield from _level(paper, carcass, _PIN, FindingKind.PINS_OFF)
        yield from _level(paper, carcass, _SOCKET, FindingKind.SOCKETS_OFF)
        yield from _drawers(paper, bodies, carcass)
        yield from _tubes(paper, carcass)
    yield from _tubes_bought(paper)
    yield from _hinges(paper)


def _is(paper: Paper, mark: str, case: str, name: str) -> bool:
    panel = paper.panels[mark]
    return panel.case == case and panel.name == name


def _outside(paper: Paper, carcass: Carcass) -> Iterator[Finding]:
    case = paper.cases[carcass.case]
    boxes = [pose.box(paper.panels[mark]) for mark, pose in carcass.body.poses.items()
             if mark not in carcass.body.unplaced]  # fmt: skip
    ways = {
        "width": (carcass.across, case.width),
        "depth": (carcass.deep, case.depth),
        "height": (carcass.up, case.height),
    }
    for name, ((axis, sign), wanted) in ways.items():
        if name == "depth":
            boxes = [b for mark, b in _scribed(paper, carcass, (axis, sign))]
        built = max(b[1][axis] for b in boxes) - min(b[0][axis] for b in boxes)
        built += raised_by(paper, carcass.case) if name == "height" else 0
        if abs(built - wanted.mm) > SAME + _looked_at(wanted):
            yield Finding(FindingKind.OUTSIDE_OFF, f"case {case.code}", name, float(built - wanted.mm))


def _scribed(paper: Paper, carcass: Carcass, back: tuple[int, int]) -> Iterator[tuple[str, tuple[Vector, Vector]]]:
    """Yield each panel's mark and box, less what is scribed off its rear edge by a step; `back` is to the wall."""
    words = " ".join(s.words for s in paper.steps if s.case == carcass.case)
    off = {mark: read_length(by, paper.unit).mm for mark, by in _SCRIBED.findall(words)}
    axis, sign = back
    for mark, pose in carcass.body.poses.items():
        if mark in carcass.body.unplaced:
            continue
        low, high = pose.box(paper.panels[mark])
        by = off.get(mark, Fraction(0))
        yield (
            mark,
            (_moved(low, axis, by if sign < 0 else Fraction(0)), _moved(high, axis, -by if sign > 0 else Fraction(0))),
        )


def _moved(corner: Vector, axis: int, by: Fraction) -> Vector:
    x, y, z = (c + (by if n == axis else 0) for n, c in enumerate(corner))
    return x, y, z


def raised_by(paper: Paper, case: str) -> Fraction:
    """Return how high a case stands on its feet, as the step says that puts them on; 0 for one that has none."""
    told = (m[1] for s in paper.steps if s.case == case for m in [_RAISED.search(s.words)] if m is not None)
    return next((read_length(words, paper.unit).mm for words in told), Fraction(0))


def _looked_at(size: Length) -> Fraction:
    """Return how far an outside size on the cover may be off: it is looked at, and written to 0.1 mm or 0.01 in.

    In inches a fraction of the rule is meant exactly, and 13.50 is not 13 1/2.
    """
    if size.unit is Unit.MM:
        return Fraction(5, 100)
    return MM_PER_INCH * Fraction(5, 1000) if size.is_decimal else Fraction(0)


def _level(paper: Paper, carcass: Carcass, use: re.Pattern[str], kind: FindingKind) -> Iterator[Finding]:
    """Yield what is held on two panels of a carcass, opposite each other, at places that are not level."""
    held: dict[str, dict[str, list[Vector]]] = defaultdict(lambda: defaultdict(list))
    for cut in paper.cuts.values():
        match = use.match(cut.use)
        pose = carcass.body.poses.get(cut.id[0])
        if match is not None and pose is not None:
            held[_name(match[1])][cut.id[0]].append(_place(pose, cut))
    for name, by_panel in held.items():
        rows = [
            sorted((carcass.at(p, carcass.up), carcass.at(p, carcass.deep)) for p in ps) for ps in by_panel.values()
        ]
        if len(rows) == 1 or len({len(r) for r in rows}) > 1:
            yield Finding(kind, name, f"{len(rows)} panels, holes {', '.join(str(len(r)) for r in rows)}")
            continue
        for row in rows[1:]:
            offs = (max(abs(a[0] - b[0]), abs(a[1] - b[1])) for a, b in zip(rows[0], row, strict=True))
            off = max(offs)
            if off > SAME:
                between = sum(carcass.body.figures[m] for m in by_panel) + len(by_panel)  # and the mark on each
                yield Finding(kind, name, " and ".join(by_panel), float(off), between)


def _name(words: str) -> str:
    """Return a maker's name without its spaces: one that breaks after `…` has one there on that page alone."""
    return "".join(words.split())


def _place(pose: Pose, cut: Cut) -> Vector:
    u, v, w = (s.middle if s is not None else Fraction(0) for s in (cut.u, cut.v, cut.w))
    return pose.point(u, v, w)


def _drawers(paper: Paper, bodies: Sequence[Body], carcass: Carcass) -> Iterator[Finding]:
    """Yield drawers that are as wide as their opening, or wider."""
    holders: dict[str, list[str]] = defaultdict(list)
    for cut in paper.cuts.values():
        match = _RUNNER.match(cut.use)
        if match is not None and cut.id[0] in carcass.body.poses and cut.id[0] not in holders[match[1]]:
            holders[match[1]].append(cut.id[0])
    for drawer, panels in holders.items():
        mine = {p.name.removeprefix(f"{drawer} "): p for p in paper.panels.values() if p.case == carcass.case
                and p.name.startswith(f"{drawer} ")}  # fmt: skip
        wide = _outer_width(paper, bodies, mine.get("left side"), mine.get("right side"))
        if len(panels) != 2 or wide is None:
            continue
        faces = sorted(_facing(paper, carcass, panels))
        room = faces[1] - faces[0] - wide
        if room <= SAME:
            yield Finding(FindingKind.DRAWER_TIGHT, f"{carcass.case} {drawer}", "no room beside it", float(room))


def _tubes(paper: Paper, carcass: Carcass) -> Iterator[Finding]:
    """Yield tubes that the steps cut to a length which does not go between the faces that carry their sockets."""
    words = " ".join(s.words for s in paper.steps if s.case == carcass.case)
    told = {rail: read_length(length, paper.unit).mm for rail, length in _TUBE.findall(words)}
    holders: dict[str, list[str]] = defaultdict(list)
    for cut in paper.cuts.values():
        match = _SOCKET.match(cut.use)
        if match is not None and cut.id[0] in carcass.body.poses and cut.id[0] not in holders[match[1]]:
            holders[match[1]].append(cut.id[0])
    for rail, panels in holders.items():
        about = f"{carcass.case} {rail}"
        if rail not in told or len(panels) != 2:
            yield Finding(FindingKind.TUBE_OFF, about, "nobody says how long its tube is")
            continue
        left, right = sorted(_facing(paper, carcass, panels))
        room = right - left - told[rail]
        if not 0 <= room <= _TUBE_SHORT:
            yield Finding(FindingKind.TUBE_OFF, about, "between its sockets", float(room))


def _tubes_bought(paper: Paper) -> Iterator[Finding]:
    """Yield lengths of tube that are bought in another number than the steps cut them."""
    cut: Counter[Fraction] = Counter()
    for step in paper.steps:
        for _, length in _TUBE.findall(step.words):
            cut[read_length(length, paper.unit).mm] += paper.cases[step.case].count
    bought: Counter[Fraction] = Counter()
    for one in paper.bought:
        for length in _TUBE_BOUGHT.findall(one.name):
            bought[read_length(length, paper.unit).mm] += one.count
    for length in sorted(cut.keys() | bought.keys()):
        if cut[length] != bought[length]:
            words = f"{bought[length]} bought in {float(length):g} mm, {cut[length]} cut"
            yield Finding(FindingKind.TUBE_OFF, "hardware", words)


def _outer_width(paper: Paper, bodies: Sequence[Body], left: Panel | None, right: Panel | None) -> Fraction | None:
    """Return how wide a drawer's box is over its two sides, as built; nothing where they are not in one body."""
    if left is None or right is None:
        return None
    body = next((b for b in bodies if {left.mark, right.mark} <= b.poses.keys()), None)
    if body is None:
        return None
    axis = body.poses[left.mark].axes[2][0]
    ends = [at[axis] for side in (left, right) for at in body.poses[side.mark].box(paper.panels[side.mark])]
    return max(ends) - min(ends)


def _facing(paper: Paper, carcass: Carcass, panels: Sequence[str]) -> list[Fraction]:
    """Return where the two faces that look at each other are, across the case."""
    axis, sign = carcass.across
    ends: list[tuple[Fraction, Fraction]] = []
    for mark in panels:
        low, high = carcass.body.poses[mark].box(paper.panels[mark])
        one, other = sign * low[axis], sign * high[axis]
        ends.append((min(one, other), max(one, other)))
    ends.sort()
    return [ends[0][1], ends[1][0]]


def hinges_of(paper: Paper) -> dict[tuple[str, str], dict[str, dict[int, Fraction]]]:
    """Return how high each hinge of each door, by case and name, lies on each panel that it is on."""
    doors: dict[tuple[str, str], dict[str, dict[int, list[Cut]]]] = defaultdict(lambda: defaultdict(dict))
    for cut in paper.cuts.values():
        match = _HINGE.match(cut.use)
        if match is not None and cut.id[0] in paper.panels:
            case = paper.panels[cut.id[0]].case
            doors[case, match[2]][cut.id[0]].setdefault(int(match[1]), []).append(cut)
    return {
        door: {mark: {n: _height(cuts) for n, cuts in hinges.items()} for mark, hinges in by_panel.items()}
        for door, by_panel in doors.items()
    }


def _hinges(paper: Paper) -> Iterator[Finding]:
    """Yield doors whose cups are not as far apart as the plates on the panel that they hang on."""
    for (case, door), by_panel in hinges_of(paper).items():
        heights = list(by_panel.values())
        if len(heights) != 2 or heights[0].keys() != heights[1].keys():
            yield Finding(FindingKind.HINGE_OFF, f"{case} {door}", "cups and plates are not on two panels alike")
            continue
        offs = [heights[0][n] - heights[1][n] for n in heights[0]]
        if max(offs) - min(offs) > SAME:
            words = " and ".join(by_panel)
            yield Finding(FindingKind.HINGE_OFF, f"{case} {door}", words, float(max(offs) - min(offs)))


def _height(cuts: Sequence[Cut]) -> Fraction:
    """Return how high a hinge's cuts lie in the middle: along a side's length, along a door's width."""
    is_door = any("diameter" in c.what.sizes and c.what.sizes["diameter"].mm > 20 for c in cuts)
    axis = "v" if is_door else "u"
    places = [getattr(c, axis).middle for c in cuts if getattr(c, axis) is not None]
    return sum(places, Fraction(0)) / len(places)
