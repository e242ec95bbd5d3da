"""Doors, drawers and their fronts hung in the built case: by the marks of their fittings, and by the gaps told.

A door stands as high as its cups and plates bring it; a drawer's box where the halves of its runners are level. A front
ends a told gap beside a panel (inset), a reveal short of the outside of the panel that it lies over, or half a gap from
the middle of one that it shares with a neighbour; fronts over each other with no panel between are a gap apart.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._fits import Carcass, carcasses_of, hinges_of
from storyrod_blind._frame import SIDES, UNEVEN, Frame
from storyrod_blind._length import LENGTH, read_length
from storyrod_blind._paper import Panel, Paper
from storyrod_blind._poses import Body
from storyrod_blind._seats import SAME

_INSET = re.compile(rf"\ba gap of ({LENGTH}) all round(?:{UNEVEN})?")
_OVER = re.compile(rf"\ba gap of ({LENGTH}) to its neighbours(?:, (?P<all>{LENGTH}) at the case's outside|{UNEVEN})")
_OPEN = re.compile(rf"\bedge ends in the open, ({LENGTH}) above (?:the )?([a-z]+(?: [a-z]+)*(?: \d+)?)\.")
_DRAWER = re.compile(r"^(?P<drawer>drawer \d+) (?:left|right) side$")
_FRONT = re.compile(r"^(?:drawer \d+ front|door \d+)$")
_HANDLE = re.compile(r"\bfit 1 handle or knob\b.*\bscrews\b")
_RUNNER = "runner of "
_EDGE = 5
"""Printed figures besides its case's that a front's edge is a sum of: its size, gap and thickness at each end."""
_OPENING = 30  # mm: a column of fronts that falls short by more has an open place among them

Span = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Gaps:
    """The gaps round fronts as a case's steps tell them: round inset ones; to neighbours and outside for others.

    What differs from side to side of the case is in `beside` for inset ones, and in `reveals` for others.
    """

    inset: Fraction | None
    over: Fraction | None
    reveals: tuple[Fraction, ...] = ()
    beside: tuple[Fraction, ...] = ()


def check_hung(paper: Paper, bodies: Sequence[Body]) -> Iterator[Finding]:
    """Yield what does not hang as it should, and fronts whose gaps nobody tells."""
    for carcass in carcasses_of(paper, bodies):
        case = _Case(paper, carcass)
        yield from case.gaps_unsaid()
        yield from case.handles_unsaid()
        yield from case.doors()
        yield from case.drawers()


class _Case:
    """A carcass as built, with its upright and level panels."""

    def __init__(self, paper: Paper, carcass: Carcass) -> None:
        self._paper = paper
        self._carcass = carcass
        self._all = {p.name: p for p in paper.panels.values() if p.case == carcass.case}
        self._boxes = {
            m: {
                way: tuple(sorted((carcass.at(low, axis), carcass.at(high, axis))))
                for way, axis in (("x", carcass.across), ("y", carcass.deep), ("z", carcass.up))
            }
            for m, pose in carcass.body.poses.items()
            if m not in carcass.body.unplaced
            for low, high in [pose.box(paper.panels[m])]
        }
        self._gaps = self._told()

    def gaps_unsaid(self) -> Iterator[Finding]:
        """Yield a case with fronts whose steps name no gap."""
        fronts = [p.mark for n, p in self._all.items() if _FRONT.match(n)]
        if fronts and self._gaps.inset is None and self._gaps.over is None:
            words = f"how wide the gaps round {', '.join(fronts)} are"
            yield Finding(FindingKind.GAP_UNSAID, f"case {self._carcass.case}", words)

    def handles_unsaid(self) -> Iterator[Finding]:
        """Yield fronts in which no hand hold is cut, for which no step or list names a handle."""
        steps = " ".join(s.words for s in self._paper.steps if s.case == self._carcass.case)
        for name, front in self._all.items():
            if not _FRONT.match(name) or any(c.use == "hand hold" for c in self._paper.cuts_of(front.mark)):
                continue
            if not _HANDLE.search(steps) or name not in self._paper.handles.get(self._carcass.case, ()):
                yield Finding(FindingKind.HANDLE_UNSAID, front.mark, name)

    def _told(self) -> Gaps:
        words = " ".join(s.words for s in self._paper.steps if s.case == self._carcass.case)
        inset, over = _INSET.search(words), _OVER.search(words)
        unit = self._paper.unit
        outside = [
            tuple(read_length(m[s], unit).mm for s in names if m[s]) if m else ()
            for m, names in ((inset, SIDES), (over, ("all", *SIDES)))
        ]
        return Gaps(
            inset=read_length(inset[1], unit).mm if inset else None,
            over=read_length(over[1], unit).mm if over else None,
            reveals=outside[1],
            beside=outside[0],
        )

    def _level(self) -> list[str]:
        """Return the panels that bound openings from below and above."""
        frame = Frame(self._carcass, {}, Fraction(0))
        poses = self._carcass.body.poses
        return [m for m in self._boxes if frame.is_level(poses[m], self._paper.panels[m])]

    def _thin(self, way: str, axis: tuple[int, int]) -> list[Span]:
        """Return from where to where the panels lie that are thin one way: uprights for x."""
        poses = self._carcass.body.poses
        return [self._span(m, way) for m in self._boxes if poses[m].axes[2][0] == axis[0]]

    def _span(self, mark: str, way: str) -> Span:
        low, high = self._boxes[mark][way]
        return low, high

    def _lows(self, spans: Sequence[Span]) -> list[Fraction]:
        """Return where a front may begin over or beside panels."""
        found: list[Fraction] = []
        for low, high in spans:
            if self._gaps.over is not None:
                found += [*(low + r for r in self._gaps.reveals), (low + high + self._gaps.over) / 2]
            if self._gaps.inset is not None:
                found += [high + gap for gap in (self._gaps.inset, *self._gaps.beside)]
        return found

    def _highs(self, spans: Sequence[Span]) -> list[Fraction]:
        """Return where a front may end: the same, looked at from the other side."""
        return [-at for at in self._lows([(-high, -low) for low, high in spans])]

    def _gap(self) -> Fraction:
        return self._gaps.over if self._gaps.over is not None else self._gaps.inset or Fraction(0)

    # --- doors -------------------------------------------------------------------------------------------------------

    def doors(self) -> Iterator[Finding]:
        """Yield doors that end, as hung, elsewhere than a gap or a reveal from what they meet."""
        hung = {p.mark: at for p in self._all.values() if (at := self._hung(p)) is not None}
        level = [self._span(m, "z") for m in self._level()]
        outside = (min(s[0] for s in level), max(s[1] for s in level)) if level else None
        for mark, span in hung.items():
            others = [at for m, at in hung.items() if m != mark]
            free = self._free(mark)
            fronts = self._over_drawers()
            lows = [*self._lows(level), *(o[1] + self._gap() for o in others), *free, *fronts[0]]
            highs = [*self._highs(level), *(o[0] - self._gap() for o in others), *free, *fronts[1]]
            if outside is not None:
                highs += [outside[1] - r for r in self._gaps.reveals]
            yield from self._off(mark, "its lower edge as hung", span[0], lows)
            yield from self._off(mark, "its upper edge as hung", span[1], highs)
            yield from self._wide(mark, self._paper.panels[mark], pair=len(hung) > 1)

    def _over_drawers(self) -> tuple[list[Fraction], list[Fraction]]:
        """Return where a door may begin over drawers' fronts, or end under some, with no panel between."""
        lows: list[Fraction] = []
        highs: list[Fraction] = []
        for holders, drawers in self._columns().items():
            for below, above, mine in self._openings(holders, drawers):
                widths = [f.width + self._gap() for d in mine if (f := self._all.get(f"{d} front")) is not None]
                for n in range(1, len(widths) + 1):
                    lows += [at + sum(widths[:n]) for at in self._lows([below])]
                    highs += [at - sum(widths[-n:]) for at in self._highs([above])]
        return lows, highs

    def _free(self, door: str) -> list[Fraction]:
        """Return the heights at which an edge of a door ends in the open, as its own step tells them."""
        words = " ".join(s.words for s in self._paper.steps if s.title.startswith(f"{door} "))
        told = [(read_length(over, self._paper.unit).mm, self._all.get(name)) for over, name in _OPEN.findall(words)]
        return [self._span(p.mark, "z")[1] + over for over, p in told if p is not None and p.mark in self._boxes]

    def _hung(self, door: Panel) -> Span | None:
        """Return from where to where a door reaches, up the case, as its hinges bring it."""
        for (case, _), by_panel in hinges_of(self._paper).items():
            if case != self._carcass.case or door.mark not in by_panel or len(by_panel) != 2:
                continue
            plate = next(m for m in by_panel if m != door.mark)
            if plate not in self._boxes:
                continue
            up = self._carcass.up
            pose = self._carcass.body.poses[plate]
            first = min(by_panel[plate])
            cups, plates = by_panel[door.mark].get(first), by_panel[plate][first]
            if cups is None:
                continue
            at = self._carcass.at(pose.point(plates, Fraction(0), Fraction(0)), up)
            low = at - cups
            return low, low + door.width
        return None

    # --- drawers -----------------------------------------------------------------------------------------------------

    def drawers(self) -> Iterator[Finding]:
        """Yield drawers' boxes that meet each other or the case as hung, and fronts that do not fill their column."""
        for holders, drawers in self._columns().items():
            yield from self._column(holders, drawers)

    def _columns(self) -> dict[tuple[str, ...], list[str]]:
        """Return the drawers by the two panels that hold them."""
        held: dict[str, list[str]] = {}
        for mark in self._boxes:
            for cut in self._paper.cuts_of(mark):
                drawer = cut.use.removeprefix(_RUNNER)
                if cut.use.startswith(_RUNNER) and mark not in held.setdefault(drawer, []):
                    held[drawer].append(mark)
        columns: dict[tuple[str, ...], list[str]] = {}
        for drawer, marks in held.items():
            columns.setdefault(tuple(sorted(marks)), []).append(drawer)
        return {holders: drawers for holders, drawers in columns.items() if len(holders) == 2}

    def _openings(self, holders: tuple[str, ...], drawers: Sequence[str]) -> Iterator[tuple[Span, Span, list[str]]]:
        """Yield the openings between two uprights: what bounds each from below and above, and its drawers, upward."""
        left, right = sorted((self._span(h, "x") for h in holders), key=lambda s: s[0])
        level = sorted(
            self._span(m, "z")
            for m in self._level()
            if self._span(m, "x")[0] < right[0] - SAME and self._span(m, "x")[1] > left[1] + SAME
        )
        runners = {d: self._runner(d, holders[0]) for d in drawers}
        for below, above in pairwise(level):
            yield (
                below,
                above,
                sorted((d for d in drawers if below[1] < runners[d] < above[0]), key=runners.__getitem__),
            )

    def _column(self, holders: tuple[str, ...], drawers: Sequence[str]) -> Iterator[Finding]:
        runners = {d: self._runner(d, holders[0]) for d in drawers}
        for below, above, mine in self._openings(holders, drawers):
            yield from self._boxes_in(mine, (below[1], above[0]), runners)
            fronts = [f for d in mine if (f := self._all.get(f"{d} front")) is not None]
            for front in fronts:
                yield from self._wide(front.mark, front, pair=False)
            if fronts and self._gaps != Gaps(None, None):
                yield from self._stack(fronts, below, above)

    def _runner(self, drawer: str, holder: str) -> Fraction:
        """Return how high a drawer's runner lies in the case."""
        pose = self._carcass.body.poses[holder]
        cut = next(c for c in self._paper.cuts_of(holder) if c.use == f"{_RUNNER}{drawer}")
        u, v = (s.middle if s is not None else Fraction(0) for s in (cut.u, cut.v))
        return self._carcass.at(pose.point(u, v, Fraction(0)), self._carcass.up)

    def _boxes_in(self, drawers: Sequence[str], room: Span, runners: dict[str, Fraction]) -> Iterator[Finding]:
        """Yield boxes that do not clear what is above and below them, and sides whose runners are not level."""
        floor, deep = room[0], self._deep()
        for drawer in drawers:
            sides = [p for s in ("left", "right") if (p := self._all.get(f"{drawer} {s} side")) is not None]
            ups = [self._half(p) for p in sides]
            name = f"{self._carcass.case} {drawer}"
            if len(sides) == 2 and None not in ups and ups[0] != ups[1]:
                words = f"{sides[0].mark} and {sides[1].mark}"
                off = max(abs(a - b) for a, b in zip(ups[0] or (), ups[1] or (), strict=True))
                yield Finding(FindingKind.RUNNER_OFF, name, words, float(off))
            if not sides:
                continue
            if deep is not None and sides[0].length >= deep:
                yield Finding(FindingKind.DRAWER_TIGHT, name, "meets the back", float(deep - sides[0].length))
            if ups[0] is None:
                continue  # an under-mounted runner has no marks on the box
            low = runners[drawer] - ups[0][0]
            if low - floor <= SAME:
                yield Finding(FindingKind.DRAWER_TIGHT, name, "no room below its box", float(low - floor))
            floor = low + sides[0].width
            if room[1] - floor <= SAME:
                yield Finding(FindingKind.DRAWER_TIGHT, name, "no room above its box", float(room[1] - floor))

    def _half(self, side: Panel) -> tuple[Fraction, ...] | None:
        """Return how far up a drawer's side its half of the runner is screwed, and how far back, if it is."""
        cuts = [c for c in self._paper.cuts_of(side.mark) if c.use.startswith(_RUNNER)]
        if not cuts or cuts[0].v is None or any(c.u is None for c in cuts):
            return None
        return cuts[0].v.middle, *sorted(c.u.middle for c in cuts if c.u is not None)

    def _deep(self) -> Fraction | None:
        """Return how far it is from the front of the case to its back."""
        depth = self._carcass.deep
        poses = self._carcass.body.poses
        backs = [self._span(m, "y") for m in self._boxes if poses[m].axes[2][0] == depth[0]]
        fore = min(self._boxes[m]["y"][0] for m in self._boxes)
        behind = [s[0] for m, s in ((m, self._span(m, "y")) for m in self._boxes) if self._name(m) == "back"]
        return min(behind) - fore if backs and behind else None

    def _name(self, mark: str) -> str:
        return self._paper.panels[mark].name

    def _stack(self, fronts: Sequence[Panel], below: Span, above: Span) -> Iterator[Finding]:
        """Yield fronts over each other that do not reach from one limit to the other with a gap between each two."""
        high = sum((f.width for f in fronts), Fraction(0)) + (len(fronts) - 1) * self._gap()
        reaches = [b - a for a in self._lows([below]) for b in self._highs([above])]
        if high < min(reaches) - _OPENING:
            return  # an opening without a front is among them, with no panel between
        names = ", ".join(f.mark for f in fronts)
        yield from self._off(names, "their heights and gaps together", high, reaches)

    def _wide(self, mark: str, front: Panel, *, pair: bool) -> Iterator[Finding]:
        """Yield a front, or a pair of doors, that does not reach from one upright's limit to another's."""
        uprights = self._thin("x", self._carcass.across)
        reaches = [b - a for a in self._lows(uprights) for b in self._highs(uprights) if b > a]
        if pair:
            reaches += [(r - self._gap()) / 2 for r in reaches]
        yield from self._off(mark, "its width", front.length, reaches)

    def _off(self, about: str, what: str, at: Fraction, wanted: Sequence[Fraction]) -> Iterator[Finding]:
        if not wanted:
            return
        off = min((at - w for w in wanted), key=abs)
        if abs(off) > SAME:
            own = 2 * about.count(",") + _EDGE  # a size and a gap more for each front of a row
            figures = self._carcass.body.most_figures + own
            yield Finding(FindingKind.FRONT_OFF, about, what, float(off), figures)
