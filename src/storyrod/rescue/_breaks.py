"""What does not hold in a state, by rules of our own: what the proof, which knows one size of a panel, cannot ask."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from math import inf

from storyrod.measure.space import PanelAxis
from storyrod.measure.writing import LengthWriter
from storyrod.model.feature import Channel, Feature, FeatureId, Hole
from storyrod.model.joint import Joint, JointId
from storyrod.model.panel import Panel
from storyrod.model.rescue import Break, BreakKind, Damage
from storyrod.rescue._draft import Bench, Draft
from storyrod.rescue._limits import DEEP, LOOSE, NEAR, SIZE, SQUARE, STANDS_OFF, TIGHT
from storyrod.rescue._plugs import clashes, in_the_way_of, near, plugs_of, runs_out, swallows
from storyrod.rescue._reading import Lying, Reader, flat_distance, width_of
from storyrod.rescue._seen import seen_at
from storyrod.rescue._turn import surfaces_turned, turned_damage


@dataclass(frozen=True)
class Breaks:
    """Asks a state for what does not hold; what is `known` of a piece in a place is kept as long as the reader's."""

    bench: Bench
    reader: Reader = field(default_factory=Reader)
    known: dict[int, Mapping[int, Feature]] = field(default_factory=dict, repr=False, compare=False)

    def of(self, draft: Draft) -> tuple[Break, ...]:
        """Return what does not hold and was not left as it is."""
        found = [b for lying in self.reader.all(draft) for b in self._of_panel(draft, lying)]
        found += (*self._of_fits(draft), *self._of_weak(draft))
        return tuple(b for b in found if b.key not in draft.left)

    def _of_weak(self, draft: Draft) -> Iterator[Break]:
        """Yield what pieces of other sizes leave less sound, as long as all of these lie where they lay.

        What comes of another piece, or of another place, the proof of the way asks afresh.
        """
        if self.bench.weak and all(draft.piece_in(panel).sizes == piece.sizes for panel, piece in self.bench.odd):
            for one in self.bench.weak:
                panel = draft.case.panel(one.panel)
                yield _broken(BreakKind.SOUND, one.key, panel, one.found, one.allowed)

    def _of_panel(self, draft: Draft, lying: Lying) -> Iterator[Break]:
        if lying.piece.is_lost:
            yield _broken(
                BreakKind.LOST,
                f"lost {lying.panel.id}",
                lying.panel,
                f"{_name(lying.panel)} is not there",
                "the panel itself",
            )
            return
        yield from self._of_sizes(lying)
        yield from self._of_place(lying)
        yield from self._of_cuts(lying)
        yield from self._of_old(draft, lying)
        yield from self._of_plugs(draft, lying)
        yield from self._of_damage(draft, lying)
        yield from self._of_edging(lying)

    def _of_sizes(self, lying: Lying) -> Iterator[Break]:
        told, panel, piece = self.bench.lengths.told, lying.panel, lying.piece
        for axis, word in ((PanelAxis.U, "length"), (PanelAxis.V, "width")):
            off = getattr(piece, word) - panel.extent(axis)
            if abs(off) > SIZE:
                way = "long" if axis is PanelAxis.U else "wide"
                yield _broken(
                    BreakKind.SIZE,
                    f"{word} {panel.id}",
                    panel,
                    f"{_name(panel)} {told(getattr(piece, word))} {way}",
                    told(panel.extent(axis)),
                    off=off,
                )
        if piece.out_of_square > SQUARE:
            yield _broken(
                BreakKind.SIZE,
                f"square {panel.id}",
                panel,
                f"diagonals of {_name(panel)} that differ by {told(piece.out_of_square)}",
                f"{told(SQUARE)} at most",
                off=piece.out_of_square,
            )

    def _of_place(self, lying: Lying) -> Iterator[Break]:
        """Yield whether a panel that is glued off its lines is wanted where it now stands."""
        if not lying.piece.glued:
            return
        panel = lying.panel
        planned = self.bench.case.panel(panel.id)
        axis = panel.frame.into.axis
        moved = panel.box.centre.along(axis) - planned.box.centre.along(axis)
        off = lying.piece.off - moved
        if abs(off) > STANDS_OFF:
            yield _broken(
                BreakKind.PLACE,
                f"place {panel.id}",
                panel,
                f"{_name(panel)} glued {self.bench.lengths.told(abs(off))} off its lines",
                f"{self.bench.lengths.told(STANDS_OFF)} at most",
                off=off,
            )

    def _of_cuts(self, lying: Lying) -> Iterator[Break]:
        """Yield cuts that can no longer be made, and those that are too wide or too deep for what goes into them."""
        told = self.bench.lengths.told
        for one in lying.to_cut:
            if lying.piece.glued:
                yield _broken(
                    BreakKind.CUT,
                    f"glued {one.id}",
                    lying.panel,
                    f"a {one.kind} still to be cut in {_name(lying.panel)}, which is glued in",
                    "no cut in a panel that is glued in",
                )
        wanted = {f.id: f for f in lying.wanted}
        for name, (_, cut) in lying.there.items():
            one = wanted[name]
            if isinstance(one.shape, Channel) and one.joint:
                continue  # a channel's width is asked against the board that goes into it
            wider, deeper = width_of(cut) - width_of(one), cut.depth - one.depth
            if wider > NEAR or deeper > DEEP:
                far = f"{told(wider)} too wide" if wider > NEAR else f"{told(deeper)} too deep"
                yield _broken(
                    BreakKind.CUT,
                    f"loose {name}",
                    lying.panel,
                    f"a {one.kind} in {_name(lying.panel)} that is {far}",
                    "a cut that holds its connector",
                    off=wider if wider > NEAR else deeper,
                )

    def _of_old(self, draft: Draft, lying: Lying) -> Iterator[Break]:
        """Yield old holes, left open, that another one would run into: so much is seen without the whole proof."""
        if not lying.old:
            return
        plugged = {p.cut for p in draft.plugs if p.piece == lying.piece.id}
        for number, blocked in self._in_the_way(lying).items():
            if number not in plugged:
                yield _broken(
                    BreakKind.CUT,
                    f"old {lying.piece.id} {number}",
                    lying.panel,
                    f"an old hole in {_name(lying.panel)} too near to a {blocked.kind} that is wanted",
                    "old cuts clear of those that are wanted, or plugged",
                )

    def _in_the_way(self, lying: Lying) -> Mapping[int, Feature]:
        """Return the old holes that are in another's way, each with the first of those; worked out once."""
        known = self.known.get(id(lying))
        if known is None:
            limits, found = self.bench.job.limits, dict[int, Feature]()
            wanted = [lying.there[f.id][1] if f.id in lying.there else f for f in lying.wanted]
            for number, old in lying.old.items():
                if not any(swallows(one, old) for one in lying.to_cut):
                    for one in wanted:
                        if in_the_way_of(old, one, lying, limits.wall, limits.skin):
                            found[number] = one
                            break
            known = self.known[id(lying)] = found
        return known

    def _of_plugs(self, draft: Draft, lying: Lying) -> Iterator[Break]:
        wall = self.bench.job.limits.wall
        for plug in plugs_of(lying.panel, draft.plugs, lying):
            in_the_way = [*clashes(plug, lying, wall)]
            if in_the_way or runs_out(plug, lying, wall):
                what = f"a {in_the_way[0].kind} beside it" if in_the_way else "an edge beside it"
                yield _broken(
                    BreakKind.CUT,
                    f"plug {plug.piece} {plug.cut}",
                    lying.panel,
                    f"a plug in {_name(lying.panel)} with {what}",
                    "new cuts clear of a plug, or wholly within it",
                )

    def _of_damage(self, draft: Draft, lying: Lying) -> Iterator[Break]:
        wall = self.bench.job.limits.wall
        for n, damage in enumerate(lying.piece.damage):
            here = turned_damage(damage, lying.piece, lying.signs)
            hit = any(near(_as_hole(here, f), f, wall) for f in lying.to_cut)
            if not hit and not seen_at(draft.case, lying.panel, here.surface, here.at):
                continue
            yield _broken(
                BreakKind.DAMAGE,
                f"damage {lying.piece.id} {n} {'cut' if hit else 'seen'}",
                lying.panel,
                f"damage of {self.bench.lengths.told(damage.size)} on the {here.surface.value} of "
                f"{_name(lying.panel)}{', where a cut goes' if hit else ''}",
                "sound board",
                off=damage.size,
            )

    def _of_edging(self, lying: Lying) -> Iterator[Break]:
        wanted = {e.surface for e in lying.panel.edged}
        there = surfaces_turned(lying.piece.edged, lying.signs)
        for surface in sorted(wanted - there):
            yield _broken(
                BreakKind.SIZE,
                f"edging {lying.panel.id} {surface.value}",
                lying.panel,
                f"no edging on the {surface.value} of {_name(lying.panel)}",
                "edging where it is seen",
            )

    def _of_fits(self, draft: Draft) -> Iterator[Break]:
        """Yield housings and rebates that the panel which goes into them does not fit."""
        by_id: Mapping[FeatureId, Feature] = {
            f.id: f for case in (draft.case, self.bench.case) for f in case.features if isinstance(f.shape, Channel)
        }  # as planned where it was: the play that was meant, whatever is wanted now
        told = self.bench.lengths.told
        panels = {p.id: p for p in draft.case.panels}
        for joint in draft.case.joints:
            lying = self.reader.lying(draft, panels[joint.receiving])
            entering = panels[joint.entering]
            board = draft.piece_in(entering.id).thickness
            for name, real in _channels(joint, lying, by_id):
                play = real.shape.width - board  # type: ignore[union-attr]  # channels only
                planned = by_id[name].shape.width - entering.thickness  # type: ignore[union-attr]
                if play < min(planned, -TIGHT) or play > planned + LOOSE:
                    word = f"{told(-play)} too narrow for" if play < 0 else f"with {told(play)} of play for"
                    yield _broken(
                        BreakKind.FIT,
                        f"fit {name}",
                        panels[joint.receiving],
                        f"a {real.kind} in {_name(panels[joint.receiving])} {word} {_name(entering)}",
                        f"{told(max(planned, 0.0))} to {told(planned + LOOSE)} of play",
                        off=play,
                    )


def _channels(joint: Joint, lying: Lying, by_id: Mapping[FeatureId, Feature]) -> Iterator[tuple[FeatureId, Feature]]:
    for one in lying.wanted:
        if one.joint == joint.id and isinstance(one.shape, Channel) and one.shape.kind != "rebate" and one.id in by_id:
            yield one.id, lying.there[one.id][1] if one.id in lying.there else one


def _broken(kind: BreakKind, key: str, panel: Panel, found: str, allowed: str, *, off: float | None = None) -> Break:
    """Return what does not hold at a panel: what there is, and what there should be."""
    return Break(kind=kind, key=key, panel=panel.id, found=found, allowed=allowed, off=off)


def _as_hole(damage: Damage, like: Feature) -> Feature:
    """Return a damaged place as the hole that it makes, half as deep as it is wide."""
    shape = Hole(diameter=damage.size, depth=damage.size / 2)
    return replace(like, at=damage.at, surface=damage.surface, shape=shape)


def _name(panel: Panel) -> str:
    return f"{panel.mark} {panel.name}"


def of_joints(draft: Draft, reader: Reader, lengths: LengthWriter) -> Iterator[Break]:
    """Yield each joint, or fitting, that no longer meets as things are, and by how much it is farthest off."""
    numbers = {j.id: j.number for j in draft.case.joints}
    for lying in reader.all(draft):
        wanted = {f.id: f for f in lying.to_cut}
        off: dict[str, list[tuple[float, str]]] = {}
        for cut in lying.old.values():
            one = wanted.get(cut.id)
            if one is not None:
                told = _how_far(cut, one)
                off.setdefault(numbers.get(JointId(one.joint), one.item), []).append(told)
            else:
                off.setdefault(numbers.get(JointId(cut.joint), cut.item), []).append((0.0, ""))
        for name, all_told in off.items():
            far, word = max(all_told)
            cuts, mates = (
                ("1 cut", "its mate is") if len(all_told) == 1 else (f"{len(all_told)} cuts", "their mates are")
            )
            word = word or (f"{lengths.told(far)} from where {mates}" if far else "that serves nothing")
            yield _broken(
                BreakKind.JOINT,
                f"joint {lying.panel.id} {name}",
                lying.panel,
                f"{cuts} for {name} in {_name(lying.panel)} {word}",
                "cuts where they meet their mates",
                off=far,
            )


def _how_far(cut: Feature, wanted: Feature) -> tuple[float, str]:
    """Return how far a cut is from where it is wanted (mm), and what says it better where it is in another surface."""
    if cut.surface is not wanted.surface:
        return inf, f"on the {cut.surface.value}, not the {wanted.surface.value}"
    return flat_distance(cut, wanted), ""
