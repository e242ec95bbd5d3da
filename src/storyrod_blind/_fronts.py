"""Drawers' boxes, their fronts and doors as solids in the built case, each where the paper lets a maker put it.

A box stands where its runners carry it, in the middle between the panels that hold it. Its front is set from below and
from the left by the gaps that its step names, in front of the box; a door by its hinges, and by the same gaps at the
side it is hung on. Then each must end at the other side where the gaps have it end too, lie over its opening, take the
screws that come through its box, and share room with nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import combinations, pairwise

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._fits import carcasses_of, hinges_of
from storyrod_blind._frame import Aim, Frame, Span, aims_of, frame_of
from storyrod_blind._length import LENGTH, read_length
from storyrod_blind._paper import Cut, Panel, Paper
from storyrod_blind._poses import Body, Pose
from storyrod_blind._seats import SAME
from storyrod_blind._solid import FILM, shared_room

_HUNG = re.compile(r"\bHang .*? on the (left|right):")
_CARRIED = re.compile(
    rf"\b[Rr]unner of ([^,]+), its case half:(?:(?!its case half).)*?lower edge ({LENGTH}) (below|above) these screws"
)
_RUNNER = "runner of "
_HOLDS = "holds the front of "
_CUP = 20  # mm: a hole wider than this is a hinge's cup
_EDGE = 5
"""Printed figures besides its case's that a front's edge is a sum of: its size, gap and thickness at each end."""
_OPENING = 30  # mm: a column of fronts that falls short by more has an open place among them

Posed = dict[str, Pose]


def check_fronts(paper: Paper, bodies: Sequence[Body]) -> Iterator[Finding]:
    """Yield what of boxes, fronts and doors is not where it should be, or is in another's way."""
    for carcass in carcasses_of(paper, bodies):
        yield from _Hanging(paper, bodies, frame_of(paper, carcass)).check()


class _Hanging:
    """A case with all that hangs and slides in it; `groups` are what moves as one."""

    def __init__(self, paper: Paper, bodies: Sequence[Body], frame: Frame) -> None:
        self._paper, self._bodies, self._frame = paper, bodies, frame
        self._case = frame.carcass.case
        self._named = {p.name: p for p in paper.panels.values() if p.case == self._case}
        self._aims = aims_of(paper, self._case)
        body = frame.carcass.body
        self._fixed: Posed = {m: p for m, p in body.poses.items() if m not in body.unplaced}
        self._spans = {m: {w: frame.span(p, paper.panels[m], w) for w in "xyz"} for m, p in self._fixed.items()}
        self._groups: dict[str, Posed] = {"the carcass": self._fixed}
        self._figures = body.most_figures + _EDGE
        words = " ".join(s.words for s in paper.steps if s.case == self._case)
        self._carried = {
            drawer: read_length(by, paper.unit).mm * (1 if way == "below" else -1)
            for drawer, by, way in _CARRIED.findall(words)
        }

    def check(self) -> Iterator[Finding]:
        """Yield all that is not as it should be."""
        yield from self._depths()
        yield from self._doors()
        yield from self._drawers()
        yield from self._room()

    # --- drawers -----------------------------------------------------------------------------------------------------

    def _drawers(self) -> Iterator[Finding]:
        columns: dict[tuple[str, ...], dict[str, Fraction]] = {}
        for drawer, heights in self._runners().items():
            columns.setdefault(tuple(sorted(heights)), {})[drawer] = min(heights.values())
        for holders, runners in columns.items():
            if len(holders) == 2:
                yield from self._column(holders, runners)

    def _runners(self) -> dict[str, dict[str, Fraction]]:
        """Return how high each drawer's runners are screwed, by the panel that holds them."""
        found: dict[str, dict[str, Fraction]] = {}
        for mark, pose in self._fixed.items():
            for cut in self._paper.cuts_of(mark):
                if cut.use.startswith(_RUNNER):
                    found.setdefault(cut.use.removeprefix(_RUNNER), {})[mark] = self._at(pose, cut, "z")
        return found

    def _at(self, pose: Pose, cut: Cut, way: str) -> Fraction:
        u, v = (s.middle if s is not None else Fraction(0) for s in (cut.u, cut.v))
        return self._frame.along(pose.point(u, v, Fraction(0)), way)

    def _column(self, holders: Sequence[str], runners: Mapping[str, Fraction]) -> Iterator[Finding]:
        left, right = sorted((self._spans[h]["x"] for h in holders), key=lambda s: s[0])
        fore = max(self._spans[h]["y"][0] for h in holders)
        level = sorted(
            s["z"]
            for m, s in self._spans.items()
            if self._frame.is_level(self._fixed[m], self._paper.panels[m])
            and s["x"][0] < right[0] - SAME
            and s["x"][1] > left[1] + SAME
        )
        for below, above in pairwise(level):
            mine = sorted((d for d in runners if below[1] < runners[d] < above[0]), key=lambda d: runners[d])
            fronts = [(d, f) for d in mine if (f := self._named.get(f"{d} front")) is not None]
            for drawer, front in fronts:
                if front.mark in self._aims:
                    yield from self._box(drawer, front, (left, right), runners[drawer], fore)
            if fronts and all(f.mark in self._aims for _, f in fronts):
                doors = self._doors_among((left[1], right[0]), (below[1], above[0]), [runners[d] for d, _ in fronts])
                yield from self._stacked(fronts, (left, right), (below, above), doors, fore)

    def _doors_among(self, across: Span, up: Span, runners: Sequence[Fraction]) -> list[Span]:
        """Return how high the doors reach that are hung in an opening, between its drawers and not before them."""
        found: list[Span] = []
        for mark, posed in self._groups.items():
            if self._is_door(mark):
                x, z = (self._frame.span(posed[mark], self._paper.panels[mark], w) for w in "xz")
                beside = x[1] <= across[0] or across[1] <= x[0] or z[1] <= up[0] or up[1] <= z[0]
                if not beside and not any(z[0] < r < z[1] for r in runners) and z not in found:
                    found.append(z)
        return sorted(found)

    def _box(
        self, drawer: str, front: Panel, between: tuple[Span, Span], runner: Fraction, fore: Fraction
    ) -> Iterator[Finding]:
        """Pose a drawer's box: behind its front, on its runners, in the middle of its opening."""
        side = self._named.get(f"{drawer} left side")
        body = next((b for b in self._bodies if side is not None and side.mark in b.poses), None)
        if side is None or body is None:
            return
        half = next((c.v.middle for c in self._paper.cuts_of(side.mark) if c.use.startswith(_RUNNER) and c.v), None)
        up = half if half is not None else self._carried.get(drawer)
        if up is None:
            words = "how high its box comes: no marks on it, and no word with its runners"
            yield Finding(FindingKind.HEIGHT_UNSAID, f"{self._case} {drawer}", words)
            return
        u, v, w = body.poses[side.mark].axes
        ways = {u[0]: ("y", u[1]), v[0]: ("z", v[1]), w[0]: ("x", -w[1])}
        loose = {m: self._frame.turned(ways, p, {}) for m, p in body.poses.items() if m not in body.unplaced}
        wide = [self._frame.span(p, self._paper.panels[m], "x") for m, p in loose.items()]
        first = {w: self._frame.span(loose[side.mark], side, w)[0] for w in "yz"}
        by = {
            "x": (between[0][1] + between[1][0] - min(s[0] for s in wide) - max(s[1] for s in wide)) / 2,
            "y": self._behind(self._aims[front.mark], front, fore) - first["y"],
            "z": runner - up - first["z"],
        }
        self._groups[drawer] = {
            m: self._frame.turned(ways, p, by) for m, p in body.poses.items() if m not in body.unplaced
        }

    def _stacked(
        self,
        fronts: Sequence[tuple[str, Panel]],
        across: tuple[Span, Span],
        up: tuple[Span, Span],
        doors: Sequence[Span],
        fore: Fraction,
    ) -> Iterator[Finding]:
        """Pose the fronts over each other in one opening, from below and from the left, and see where they end.

        Each ends by the gaps that its own step tells: inset and overlay fronts may stand over each other.
        """
        aim, outer = self._aims[fronts[0][1].mark], self._frame.outer
        upper = self._aims[fronts[-1][1].mark]
        top, low = upper.end(up[1], outer["z"][1], "top"), aim.begin(up[0], outer["z"][0], "base")
        high = sum((f.width for _, f in fronts), Fraction(0)) + sum((d[1] - d[0] for d in doors), Fraction(0))
        if high + (len(fronts) + len(doors) - 1) * aim.gap < top - low - _OPENING:
            return  # an opening without a front is among them, with no panel between
        over = list(doors)
        for drawer, front in fronts:
            own = self._aims[front.mark]
            x0 = own.begin(across[0], outer["x"][0], "left")
            while over and low + front.width > over[0][0]:
                low = over.pop(0)[1] + aim.gap
            at = {"x": x0, "y": self._behind(own, front, fore) - front.thickness, "z": low}
            self._groups[front.mark] = {front.mark: self._frame.pose(("x", "z", "y"), at)}
            spans = {"x": (x0, x0 + front.length), "z": (low, low + front.width)}
            yield from self._off(front, "its right edge", spans["x"][1] - own.end(across[1], outer["x"][1], "right"))
            yield from self._before_its_box(drawer, front, spans)
            low += front.width + aim.gap
        last = fronts[-1][1]
        top = over[0][0] - aim.gap if over else top
        yield from self._off(last, "its upper edge", low - aim.gap - top, 2 * (len(fronts) + len(doors) - 1))
        if upper.reveal is not None:
            x0 = upper.begin(across[0], outer["x"][0], "left")
            laps = [across[0][1] - x0, x0 + last.length - across[1][0]]
            laps += [low - aim.gap - up[1][0]] if not over else []
            yield from (self._finding(last, "beside its opening", lap) for lap in laps if lap <= SAME)

    def _before_its_box(self, drawer: str, front: Panel, spans: Mapping[str, Span]) -> Iterator[Finding]:
        """Yield a front that its box stands out beside, or that screws through the box front miss."""
        posed = self._groups.get(drawer, {})
        for way, (low, high) in spans.items():
            ends = [self._frame.span(p, self._paper.panels[m], way) for m, p in posed.items()]
            out = max((e for s in ends for e in (low - s[0], s[1] - high)), default=Fraction(-1))
            if out > SAME:
                yield self._finding(front, "its box stands out beside it", out)
        for mark, pose in posed.items():
            for cut in self._paper.cuts_of(mark):
                if cut.use.startswith(_HOLDS):
                    in_front = (spans[w][0] < self._at(pose, cut, w) < spans[w][1] for w in spans)
                    if not all(in_front):
                        yield self._finding(front, f"the screw through {mark}.{cut.id[1]} misses it", Fraction(0))

    # --- doors -------------------------------------------------------------------------------------------------------

    def _doors(self) -> Iterator[Finding]:
        hung: dict[str, tuple[Span, str]] = {}
        for (case, _), by_panel in hinges_of(self._paper).items():
            door = next((m for m in by_panel if case == self._case and m not in self._fixed), None)
            plate = next((m for m in by_panel if case == self._case and m in self._fixed), None)
            if door is None or plate is None or door not in self._aims:
                continue
            yield from self._in_line(door, plate)
            first = min(by_panel[plate])
            if first not in by_panel[door]:
                continue  # told elsewhere
            hand = self._hand(door)
            pose = self._fixed[plate]
            low = self._frame.along(pose.point(by_panel[plate][first], Fraction(0), Fraction(0)), "z")
            span = self._beside(door, plate, hand)
            yield from self._said(door, hand)
            yield from self._lap(door, plate, span)
            self._pose_door(door, span, low - by_panel[door][first])
            hung[door] = (span, hand)
        for door, (span, hand) in hung.items():
            others = [s for d, (s, _) in hung.items() if d != door]
            yield from self._free_edge(door, span, hand, others)

    def _hand(self, door: str) -> str:
        """Return the side that a door hangs on, by where its cups are."""
        cups = [c.u.middle for c in self._paper.cuts_of(door) if _is_cup(c) and c.u is not None]
        return "left" if cups and sum(cups) / len(cups) < self._paper.panels[door].length / 2 else "right"

    def _said(self, door: str, hand: str) -> Iterator[Finding]:
        words = " ".join(s.words for s in self._paper.steps if s.title.startswith(f"{door} "))
        said = _HUNG.search(words)
        if said is not None and said[1] != hand:
            yield Finding(FindingKind.HINGE_OFF, door, f"hung on the {said[1]}, its cups are on the {hand}")

    def _behind(self, aim: Aim, front: Panel, fore: Fraction) -> Fraction:
        """Return how far back the back of a front is: at the edges that it lies on, or as far as its step says."""
        return fore if aim.reveal is not None else self._frame.fore + (aim.back or 0) + front.thickness

    def _depths(self) -> Iterator[Finding]:
        """Yield inset fronts and doors whose steps do not say how far back they are."""
        for mark, aim in self._aims.items():
            panel = self._paper.panels.get(mark)
            if panel is not None and panel.case == self._case and aim.reveal is None and aim.back is None:
                yield Finding(FindingKind.DEPTH_UNSAID, mark, panel.name)

    def _lap(self, door: str, plate: str, span: Span) -> Iterator[Finding]:
        """Yield a door that laps the panel that it hangs on by another figure than its step says, or that says none."""
        aim, upright = self._aims[door], self._spans[plate]["x"]
        if aim.reveal is None:
            return
        if aim.lap is None:
            yield Finding(FindingKind.LAP_UNSAID, door, self._paper.panels[door].name)
            return
        lap = min(span[1], upright[1]) - max(span[0], upright[0])
        yield from self._off(
            self._paper.panels[door], "how much of it is over the panel that it hangs on", lap - aim.lap
        )

    def _in_line(self, door: str, plate: str) -> Iterator[Finding]:
        """Yield a door whose cups, or whose plates, are not all as far from the edge: it would hang askew."""
        name = self._paper.panels[door].name
        mine = [c for c in self._paper.cuts_of(plate) if c.use.startswith("hinge ") and c.use.endswith(f" of {name}")]
        plates: dict[str, list[Fraction]] = {}
        for cut in mine:
            if cut.v is not None:
                plates.setdefault(cut.use, []).append(cut.v.middle)
        cups = [c.u.middle for c in self._paper.cuts_of(door) if _is_cup(c) and c.u is not None]
        for what, ats in (("cups", cups), ("plates", [sum(vs, Fraction(0)) / len(vs) for vs in plates.values()])):
            if ats and max(ats) - min(ats) > SAME:
                words = f"its {what} are not in one line"
                yield Finding(FindingKind.HINGE_OFF, door, words, float(max(ats) - min(ats)))

    def _beside(self, door: str, plate: str, hand: str) -> Span:
        """Return from where to where a door reaches across the case, set by its gap at the side it hangs on."""
        aim, outer, length = self._aims[door], self._frame.outer["x"], self._paper.panels[door].length
        if hand == "left":
            low = aim.begin(self._spans[plate]["x"], outer[0], "left")
            return low, low + length
        high = aim.end(self._spans[plate]["x"], outer[1], "right")
        return high - length, high

    def _pose_door(self, door: str, span: Span, low: Fraction) -> None:
        panel = self._paper.panels[door]
        behind = self._behind(self._aims[door], panel, self._frame.fore)
        at = {"x": span[0], "y": behind - panel.thickness, "z": low}
        self._groups[door] = {door: self._frame.pose(("x", "z", "y"), at)}

    def _free_edge(self, door: str, span: Span, hand: str, others: Sequence[Span]) -> Iterator[Finding]:
        """Yield a door that does not end a gap from another, or where the gaps have it end at an upright."""
        aim, outer = self._aims[door], self._frame.outer["x"]
        uprights = [s["x"] for m, s in self._spans.items() if self._frame.is_thin(self._fixed[m], "x")]
        if hand == "left":
            ends = [aim.end(u, outer[1], "right") for u in uprights] + [o[0] - aim.gap for o in others]
            off = min((span[1] - e for e in ends), key=abs)
        else:
            ends = [aim.begin(u, outer[0], "left") for u in uprights] + [o[1] + aim.gap for o in others]
            off = min((e - span[0] for e in ends), key=abs)
        yield from self._off(self._paper.panels[door], "its free edge", off)

    # --- room --------------------------------------------------------------------------------------------------------

    def _room(self) -> Iterator[Finding]:
        """Yield what shares room of all that is fixed, hung and slid in."""
        for ones, others in combinations(self._groups.values(), 2):
            for a, own in ones.items():
                for b, pose in others.items():
                    deep = shared_room(self._paper, (a, own), (b, pose))
                    if deep > FILM:
                        figures = self._figures + 2 * _EDGE
                        yield Finding(FindingKind.ROOM_SHARED, f"{a} and {b}", "they share room", deep, figures)

    def _is_door(self, group: str) -> bool:
        return group in self._paper.panels and self._paper.panels[group].name.startswith("door ")

    def _off(self, panel: Panel, what: str, off: Fraction, more: int = 0) -> Iterator[Finding]:
        if abs(off) > SAME:
            yield self._finding(panel, what, off, more)

    def _finding(self, panel: Panel, what: str, off: Fraction, more: int = 0) -> Finding:
        """Return a finding; `more` are printed figures besides those of one front, such as others below it."""
        return Finding(FindingKind.FRONT_OFF, panel.mark, what, float(off), self._figures + more)


def _is_cup(cut: Cut) -> bool:
    return cut.use.startswith("hinge ") and "diameter" in cut.what.sizes and cut.what.sizes["diameter"].mm > _CUP
