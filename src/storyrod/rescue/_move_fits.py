"""Moves where a panel and its housing do not fit, and what is left as it is, with what is then seen or weaker."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from storyrod.model.detail import DetailedCase
from storyrod.model.feature import Channel, Feature
from storyrod.model.panel import Panel
from storyrod.model.rescue import Break, BreakKind, Move, MoveKind
from storyrod.rescue._breaks import Breaks
from storyrod.rescue._costs import MINUTES, SET_OTHERWISE
from storyrod.rescue._draft import Bench, Draft
from storyrod.rescue._limits import LEAST_SHIM, LEFT_IN_HOUSING, LOOSE, MOST_SHIM
from storyrod.rescue._move_joints import Found
from storyrod.rescue._reading import Reader
from storyrod.rescue._seen import seen_at
from storyrod.rescue._turn import turned_damage

MOST_NARROWER: float = 5.0
"""A panel may be so much narrower than planned (mm) before it is more than a step at the back."""

MOST_OUT: float = 4.0
"""Diagonals that differ by more than this (mm) are not left."""

MOST_PLAY: float = 1.0
"""So much play in a cut or housing (mm) can be left, with glue that fills."""

MOST_LEAN: float = 0.5
"""A panel may stand so far off its lines (mm) without anything else being moved."""


@dataclass(frozen=True)
class FitMoves:
    """The moves at housings, and those that leave something as it is."""

    bench: Bench
    reader: Reader
    breaks: Breaks

    def of(self, draft: Draft) -> Iterator[Found]:
        """Yield every move of a state, with the state that it leads to."""
        for one in self.breaks.of(draft):
            if one.kind is BreakKind.FIT:
                yield from self._at_housing(draft, one)
            yield from self._left(draft, one)

    def _at_housing(self, draft: Draft, one: Break) -> Iterator[Found]:
        feature = next(f for f in draft.case.features if f"fit {f.id}" == one.key)
        joint = next(j for j in draft.case.joints if j.id == feature.joint)
        receiving, entering = draft.case.panel(joint.receiving), draft.case.panel(joint.entering)
        assert isinstance(feature.shape, Channel)  # noqa: S101 - a fit is asked of channels alone
        planned = next((f.shape for f in self.bench.case.features if f.id == feature.id), feature.shape)
        play = (planned.width if isinstance(planned, Channel) else feature.shape.width) - entering.thickness
        width = draft.piece_in(entering.id).thickness + play
        lying = self.reader.lying(draft, receiving)
        real = lying.there[feature.id][1] if feature.id in lying.there else None
        is_cut = real is not None
        if not lying.piece.glued and (not is_cut or (one.off or 0.0) < play):
            yield self._recut(draft, feature, (receiving, entering), width, is_cut=is_cut)
        gap = (one.off or 0.0) - play
        if is_cut and LEAST_SHIM <= gap <= MOST_SHIM:
            move = Move(
                kind=MoveKind.SHIM,
                code=f"{MoveKind.SHIM.value} {joint.number}",
                text=f"Glue a shim {self.bench.lengths.told(gap)} thick to the far face of {_name(entering)} where it "
                f"goes into {_name(receiving)}.",
                minutes=MINUTES[MoveKind.SHIM],
                risk=1,
                seen=1,
                watch="Veneer will do; lay it against the wall of the housing that is less seen.",
            )
            yield move, replace(draft, left=draft.left | {one.key}).after(move)

    def _recut(
        self, draft: Draft, feature: Feature, panels: tuple[Panel, Panel], width: float, *, is_cut: bool
    ) -> Found:
        (receiving, entering), told = panels, self.bench.lengths.told
        move = Move(
            kind=MoveKind.WIDEN,
            code=f"{MoveKind.WIDEN.value} {receiving.mark} for {entering.mark}",
            text=f"Cut the {feature.kind} in {_name(receiving)} {told(width)} wide for {_name(entering)}; the wall "
            "toward its face side stays.",
            minutes=MINUTES[MoveKind.WIDEN] if is_cut else SET_OTHERWISE,
            risk=1 if is_cut else 0,
            watch="Try it in an offcut first.",
        )
        return move, replace(draft, case=_with_width(draft.case, feature, receiving, entering, width)).after(move)

    def _left(self, draft: Draft, one: Break) -> Iterator[Found]:
        said = self._said_of(draft, one)
        if said is None:
            return
        risk, seen, weaker = said
        move = Move(
            kind=MoveKind.LEAVE,
            code=f"{MoveKind.LEAVE.value} {one.key}",
            text=f"Leave it: {one.found}.",
            minutes=MINUTES[MoveKind.LEAVE],
            risk=risk,
            seen=seen,
            weaker=weaker,
        )
        yield move, replace(draft, left=draft.left | {one.key}).after(move)

    def _said_of(self, draft: Draft, one: Break) -> tuple[int, int, str] | None:
        """Return risk, what is seen and what is weaker where something can be left as it is, else None."""
        off, told = one.off or 0.0, self.bench.lengths.told
        match one.kind:
            case BreakKind.SIZE:
                return self._of_size(draft, one, off)
            case BreakKind.FIT if 0 < off <= MOST_PLAY + LOOSE:
                play = f"The joint has {told(off)} of play"
                return 2, 1, f"{play}: use glue that fills, and square the case while it sets."
            case BreakKind.CUT if one.key.startswith("loose ") and 0 < off <= MOST_PLAY:
                play = f"The connector has {told(off)} of play"
                return 2, 0, f"{play}: use glue that fills, and give it its full time."
            case BreakKind.PLACE if abs(off) <= MOST_LEAN:
                return 1, 1, f"The panel leans by {told(abs(off))}, and so does what stands against it."
            case BreakKind.DAMAGE if one.key.endswith(" seen"):
                return 0, self._seen(draft, one), ""
            case BreakKind.SOUND if any(w.key == one.key and w.can_be_left for w in self.bench.weak):
                return 2, 1, f"{one.found[:1].upper()}{one.found[1:]}; {one.allowed}."
        return None

    def _of_size(self, draft: Draft, one: Break, off: float) -> tuple[int, int, str] | None:
        told, panel = self.bench.lengths.told, draft.case.panel(one.panel)
        if one.key.startswith("square "):
            lean = out_of_line(off, panel.length, panel.width)
            words = f"The case closes {told(lean)} out of square over its depth, and doors hang askew."
            return (2, 1, words) if off <= MOST_OUT else None
        if one.key.startswith("edging "):
            return 0, 3, ""
        if off >= 0:
            return None
        if one.key.startswith("width "):
            words = f"{_name(panel)} ends {told(-off)} short of what stands beside it."
            return (0, 2, words) if -off <= MOST_NARROWER else None
        return self._of_housings(draft, one, -off)

    def _of_housings(self, draft: Draft, one: Break, short: float) -> tuple[int, int, str] | None:
        """Return what comes of a panel that is so much too short, where its housings still hold it; else None."""
        ends = [j for j in draft.case.joints if j.entering == one.panel]
        let_in = sum(max(0.0, j.enters - LEFT_IN_HOUSING) for j in ends)
        if not ends or short > let_in or any(j.enters <= LEFT_IN_HOUSING for j in ends):
            return None
        told, deep = self.bench.lengths.told, sum(j.enters for j in ends)
        words = f"{told(deep - short)} of it stands in its housings in all, not {told(deep)}"
        return 1, 0, f"{words}: part the lack between the two, and glue them well."

    def _seen(self, draft: Draft, one: Break) -> int:
        panel = draft.case.panel(one.panel)
        lying = self.reader.lying(draft, panel)
        number = int(one.key.split()[-2])
        here = turned_damage(lying.piece.damage[number], lying.piece, lying.signs)
        return seen_at(draft.case, panel, here.surface, here.at)


def out_of_line(differ: float, length: float, width: float) -> float:
    """Return how far a panel's end runs out of square over its width, from how much its diagonals differ (mm).

    The diagonals of a parallelogram of sides a and b, leaning by the angle t, have squares of `a² + b² ± 2 a b sin t`;
    so they differ by `2 a b sin t / √(a² + b²)`, and the end runs out by `b sin t`. Plain geometry.
    """
    return differ * math.hypot(length, width) / (2 * length)


def _with_width(case: DetailedCase, feature: Feature, receiving: Panel, entering: Panel, width: float) -> DetailedCase:
    """Return a case with a channel of another width; the wall against the entering panel's face side stays."""
    assert isinstance(feature.shape, Channel)  # noqa: S101 - a fit is asked of channels alone
    into = entering.frame.into
    by = (width - feature.shape.width) / 2 * into.sign
    at = receiving.frame.to_panel(receiving.frame.to_case(feature.at).moved(into.axis, by))
    new = replace(feature, at=at, shape=replace(feature.shape, width=width))
    features = tuple(new if f.id == feature.id else f for f in case.features)
    return replace(case, features=features, _by_panel={})


def _name(panel: Panel) -> str:
    return f"{panel.mark} {panel.name}"
