"""Moves with a piece: turned, swapped, plugged, made up, trimmed, planed, made anew."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import combinations

from storyrod.measure.space import PANEL_AXES, PanelAxis
from storyrod.model.board import BoardKind
from storyrod.model.panel import Panel, PanelId, Surface, surface_at
from storyrod.model.rescue import AS_MARKED, Move, MoveKind, Piece, Plug, Seat, Signs
from storyrod.rescue._costs import EACH_PLUG, MINUTES
from storyrod.rescue._draft import Bench, Draft
from storyrod.rescue._limits import LEAST_STRIP, MOST_STRIP, NEAR, PLUG_DRIES_MIN, SIZE
from storyrod.rescue._move_joints import Found
from storyrod.rescue._pieces import blank
from storyrod.rescue._plugs import bounds, can_be_plugged, plug_for
from storyrod.rescue._reading import Lying, Reader
from storyrod.rescue._seen import seen_at
from storyrod.rescue._turn import as_it_lies, turned_damage, ways_to_lie, words_of


@dataclass(frozen=True)
class PieceMoves:
    """The moves that change which piece lies where, or the piece itself."""

    bench: Bench
    reader: Reader
    plugs: dict[tuple[int, int], Plug] = field(default_factory=dict, repr=False, compare=False)

    def of(self, draft: Draft) -> Iterator[Found]:
        """Yield every move of a state, with the state that it leads to."""
        lying = [*self.reader.all(draft)]
        for one in lying:
            if not _is_troubled(one):
                continue
            if not one.piece.glued:
                yield from self._turns(draft, one)
                yield from self._made_up(draft, one)
                yield from self._remade(draft, one)
            yield from self._plugged(draft, one)
        for one, other in combinations(lying, 2):
            if _is_troubled(one) or _is_troubled(other):
                yield from self._swapped(draft, one, other)

    # --- turned and swapped -----------------------------------------------------------------------------------------

    def _turns(self, draft: Draft, lying: Lying) -> Iterator[Found]:
        if not (lying.piece.cuts or lying.piece.damage) or lying.piece.is_lost:
            return
        for signs in ways_to_lie(lying.piece, lying.panel):
            if signs == lying.signs:
                continue
            seat = Seat(piece=lying.piece.id, signs=signs)
            move = Move(
                kind=MoveKind.TURN,
                code=f"{MoveKind.TURN.value} {lying.panel.mark} {_code(signs)}",
                text=f"Use {_name(lying.panel)} {words_of(signs)}.",
                minutes=MINUTES[MoveKind.TURN],
                watch=f"Strike out the face mark and edge mark of {lying.panel.mark}, and mark it again."
                + self._beside_marks(draft, {lying.panel.id: seat}),
            )
            yield move, replace(draft, seats={**draft.seats, lying.panel.id: seat}).after(move)

    def _swapped(self, draft: Draft, one: Lying, other: Lying) -> Iterator[Found]:
        if any(x.piece.glued or x.piece.is_lost or x.piece.is_new for x in (one, other)):
            return
        if one.panel.board != other.panel.board or not _alike(one.panel, other.panel):
            return
        seats = {
            **draft.seats,
            one.panel.id: self._best_seat(draft, other.piece, one.panel),
            other.panel.id: self._best_seat(draft, one.piece, other.panel),
        }
        signs = [seats[x.panel.id].signs for x in (one, other)]
        move = Move(
            kind=MoveKind.SWAP,
            code=f"{MoveKind.SWAP.value} {one.panel.mark} {other.panel.mark}",
            text=f"Swap {_name(one.panel)} and {_name(other.panel)}: the first takes the other's place "
            f"{words_of(signs[1])}, the other the first one's {words_of(signs[0])}.",
            minutes=MINUTES[MoveKind.SWAP],
            risk=1,  # two boards with marks that no longer hold
            watch=f"Strike out the marks {one.panel.mark} and {other.panel.mark} on the boards, and mark them again."
            + self._beside_marks(draft, {p: s for p, s in seats.items() if s != draft.seats[p]}),
        )
        yield move, replace(draft, seats=seats).after(move)

    def _beside_marks(self, draft: Draft, seats: dict[PanelId, Seat]) -> str:
        """Return in words how far cuts that serve in another place stand beside its marks, which were rounded."""
        far = 0.0
        turned = replace(draft, seats={**draft.seats, **seats})
        for panel, seat in seats.items():
            for name, (number, _) in self.reader.lying(turned, draft.case.panel(panel)).there.items():
                own = self.bench.rounded.get(draft.pieces[seat.piece].cuts[number].id)
                wanted = self.bench.rounded.get(name)
                if own is not None and wanted is not None:
                    pairs = zip((own.u, own.v, own.w), (wanted.u, wanted.v, wanted.w), seat.signs, strict=True)
                    far = max(far, *(abs(a * sign - b) for a, b, sign in pairs))
        if far <= NEAR:
            return ""
        return (
            f" Its cuts stand up to {self.bench.lengths.told(far)} beside the marks, which were rounded: mark by them."
        )

    def _best_seat(self, draft: Draft, piece: Piece, panel: Panel) -> Seat:
        """Return the way in which most of what is cut in a piece serves in a place."""

        def served(signs: Signs) -> tuple[int, int, int]:
            seat = Seat(piece=piece.id, signs=signs)
            lying = self.reader.lying(replace(draft, seats={**draft.seats, panel.id: seat}), panel)
            return len(lying.there), -len(lying.old), sum(signs)

        return Seat(piece=piece.id, signs=max(ways_to_lie(piece, panel), key=served))

    # --- plugged ----------------------------------------------------------------------------------------------------

    def _plugged(self, draft: Draft, lying: Lying) -> Iterator[Found]:
        there = {p.cut for p in draft.plugs if p.piece == lying.piece.id}
        wall = self.bench.job.limits.wall
        numbers = [n for n, cut in lying.old.items() if n not in there and can_be_plugged(cut)]
        if numbers:
            plugs = tuple(self._plug(n, lying, wall) for n in numbers)
            seen = max(seen_at(draft.case, lying.panel, lying.old[n].surface, lying.old[n].at) for n in numbers)
            yield self._with_plugs(draft, lying, plugs, seen)
        for n, damage in enumerate(lying.piece.damage):
            key = f"damage {lying.piece.id} {n} seen"
            here = turned_damage(damage, lying.piece, lying.signs)
            seen = seen_at(draft.case, lying.panel, here.surface, here.at)
            if key not in draft.left and seen:
                move = Move(
                    kind=MoveKind.PLUG,
                    code=f"{MoveKind.PLUG.value} {lying.panel.mark} damage {n + 1}",
                    text=f"Let a patch into the damage on the {here.surface.value} of {_name(lying.panel)}, glue it, "
                    "and plane it flush.",
                    minutes=MINUTES[MoveKind.PLUG] + EACH_PLUG,
                    seen=min(seen, 1),
                    wait_min=PLUG_DRIES_MIN,
                )
                yield move, replace(draft, left=draft.left | {key}).after(move)

    def _plug(self, number: int, lying: Lying, wall: float) -> Plug:
        """Return the plug for an old cut, worked out once."""
        key = (id(lying), number)  # the reader keeps it, so no other gets its id
        if key not in self.plugs:
            self.plugs[key] = plug_for(number, lying, wall)
        return self.plugs[key]

    def _with_plugs(self, draft: Draft, lying: Lying, plugs: tuple[Plug, ...], seen: int) -> Found:
        told = self.bench.lengths.told
        sizes = sorted({(p.size, p.is_strip) for p in plugs})
        many = "s" * (len(plugs) > 1)
        words = " and ".join(
            f"strip{many} {told(s)} wide" if strip else f"plug{many} {told(s)} across" for s, strip in sizes
        )
        move = Move(
            kind=MoveKind.PLUG,
            code=f"{MoveKind.PLUG.value} {lying.panel.mark} {','.join(str(p.cut + 1) for p in plugs)}",
            text=f"Glue {len(plugs)} {words} into the old cut{many} of {_name(lying.panel)}, the grain along the "
            f"board's, and plane {'them' if many else 'it'} flush.",
            minutes=MINUTES[MoveKind.PLUG] + EACH_PLUG * len(plugs),
            risk=1,
            seen=min(seen, 1),
            wait_min=PLUG_DRIES_MIN,
            watch="Cut near or into a plug only when its glue has its full time.",
        )
        return move, replace(draft, plugs=(*draft.plugs, *plugs)).after(move)

    # --- made up, trimmed, planed -----------------------------------------------------------------------------------

    def _made_up(self, draft: Draft, lying: Lying) -> Iterator[Found]:
        if lying.piece.is_lost:
            return
        for axis, word in ((PanelAxis.U, "length"), (PanelAxis.V, "width")):
            off = getattr(lying.piece, word) - lying.panel.extent(axis)
            if abs(off) <= SIZE:
                continue
            for far in (True, False):
                surface = surface_at(axis, far=far)
                if off < 0:
                    yield from self._packed(draft, lying, surface, -off, word)
                else:
                    yield from self._trimmed(draft, lying, surface, off, word)
        thick = lying.piece.thickness - lying.panel.thickness
        if thick > NEAR and self.bench.job.board(lying.piece.board).kind is BoardKind.SOLID:
            yield self._planed(draft, lying, thick)

    def _packed(self, draft: Draft, lying: Lying, surface: Surface, short: float, word: str) -> Iterator[Found]:
        back = max(0.0, LEAST_STRIP - short)
        if short + back > MOST_STRIP or not _is_free(lying, surface, back):
            return
        told = self.bench.lengths.told
        first = f"Take {told(back)} off the {surface.value} of {_name(lying.panel)}, then glue" if back else "Glue"
        where = "on" if back else f"on the {surface.value} of {_name(lying.panel)}"
        bored = any(f.surface is surface for f in lying.to_cut)
        move = Move(
            kind=MoveKind.PACK,
            code=f"{MoveKind.PACK.value} {lying.panel.mark} {surface.value}",
            text=f"{first} a strip {told(short + back)} thick {where}, and plane it flush.",
            minutes=MINUTES[MoveKind.PACK],
            cents=0.0,
            risk=2 if bored else 1,
            seen=1,
            wait_min=PLUG_DRIES_MIN,
            weaker="The connectors of that end sit partly in the strip." if bored else "",
        )
        yield move, draft.with_piece(_resized(lying.piece, surface, short, word)).after(move)

    def _trimmed(self, draft: Draft, lying: Lying, surface: Surface, long: float, word: str) -> Iterator[Found]:
        if not _is_free(lying, surface, long) or surface in lying.piece.edged:
            return
        move = Move(
            kind=MoveKind.TRIM,
            code=f"{MoveKind.TRIM.value} {lying.panel.mark} {surface.value}",
            text=f"Trim {self.bench.lengths.told(long)} off the {surface.value} of {_name(lying.panel)}.",
            minutes=MINUTES[MoveKind.TRIM],
            risk=1,
            watch="Measure once more before the cut: what is off is off.",
        )
        yield move, draft.with_piece(_resized(lying.piece, surface, -long, word)).after(move)

    def _planed(self, draft: Draft, lying: Lying, thick: float) -> Found:
        planned = self.bench.lengths.told(lying.panel.thickness)
        move = Move(
            kind=MoveKind.PLANE,
            code=f"{MoveKind.PLANE.value} {lying.panel.mark}",
            text=f"Plane {self.bench.lengths.told(thick)} off the far face of {_name(lying.panel)}, to {planned}.",
            minutes=MINUTES[MoveKind.PLANE],
            risk=1,
        )
        return move, draft.with_piece(replace(lying.piece, thickness=lying.panel.thickness)).after(move)

    # --- made anew --------------------------------------------------------------------------------------------------

    def _remade(self, draft: Draft, lying: Lying) -> Iterator[Found]:
        if lying.piece.is_new:
            return
        panel = lying.panel
        new = blank(panel, "+")
        rack = self.bench.from_rack(panel.id)
        reused = "" if lying.piece.is_lost else self._reuse(draft, lying)
        move = Move(
            kind=MoveKind.REMAKE,
            code=f"{MoveKind.REMAKE.value} {panel.mark}",
            text=f"Make {_name(panel)} anew, {self.bench.lengths.told_size(panel.length, panel.width)} finished, "
            + (f"from {rack} on the rack." if rack else "from a sheet."),
            minutes=MINUTES[MoveKind.REMAKE],
            cents=0.0 if rack else self.bench.price_of(panel.id),
            watch=reused,
        )
        pieces = {**draft.pieces, new.id: new}
        seat = Seat(piece=new.id, signs=as_it_lies(new, panel))
        yield move, replace(draft, pieces=pieces, seats={**draft.seats, panel.id: seat}).after(move)

    def _reuse(self, draft: Draft, lying: Lying) -> str:
        """Return in words which other panel could be sawn from what is free of cuts in a piece, if any."""
        clear = _clear_length(lying)
        for other in self.reader.all(draft):
            is_bare = not other.piece.cuts and not other.piece.is_new and not other.piece.glued
            if other.panel.id == lying.panel.id or other.piece.board != lying.piece.board or not is_bare:
                continue
            if other.panel.length <= clear and other.panel.width <= lying.piece.width:
                return f"The old one is large enough for {_name(other.panel)}, if that is not sawn yet."
        return ""


def _is_troubled(lying: Lying) -> bool:
    panel, piece = lying.panel, lying.piece
    sizes = zip(piece.sizes, PANEL_AXES, strict=True)
    off = any(abs(size - panel.extent(axis)) > NEAR for size, axis in sizes)
    loose = any(
        cut.depth > w.depth + NEAR for w in lying.wanted if w.id in lying.there for cut in (lying.there[w.id][1],)
    )
    return bool(lying.old or piece.damage or piece.is_lost or piece.out_of_square or off or loose or _is_wide(lying))


def _is_wide(lying: Lying) -> bool:
    from storyrod.rescue._reading import width_of

    return any(width_of(lying.there[w.id][1]) > width_of(w) + NEAR for w in lying.wanted if w.id in lying.there)


def _alike(one: Panel, other: Panel) -> bool:
    return all(abs(one.extent(a) - other.extent(a)) <= NEAR for a in PANEL_AXES)


def _is_free(lying: Lying, surface: Surface, reach: float) -> bool:
    """Return whether nothing is cut in an end or edge of a piece, nor in the last `reach` mm before it."""
    piece = lying.piece
    size = piece.sizes[PANEL_AXES.index(surface.axis)]
    for cut in piece.cuts:
        if cut.surface is surface:
            return False
        for bar in bounds(cut):
            low, high = bar.span(surface.axis)
            if (high > size - reach + NEAR) if surface.is_far else (low < reach - NEAR):
                return False
    return lying.signs == AS_MARKED


def _resized(piece: Piece, surface: Surface, by: float, word: str) -> Piece:
    """Return a piece that is longer or wider by so much at one end or edge; cuts keep their places in the board."""
    cuts = piece.cuts
    if not surface.is_far:
        cuts = tuple(replace(c, at=c.at.moved(surface.axis, by)) for c in cuts)
    else:
        cuts = tuple(replace(c, at=c.at.moved(c.surface.axis, by)) if c.surface is surface else c for c in cuts)
    size = getattr(piece, word) + by
    return replace(piece, cuts=cuts, **{word: size})


def _clear_length(lying: Lying) -> float:
    """Return the longest stretch of a piece, along its length, in which nothing is cut."""
    spans = sorted(bar.span(PanelAxis.U) for cut in lying.piece.cuts for bar in bounds(cut))
    clear, reached = 0.0, 0.0
    for low, high in [*spans, (lying.piece.length, lying.piece.length)]:
        clear, reached = max(clear, low - reached), max(reached, high)
    return clear


def _code(signs: Signs) -> str:
    return "".join("+" if s > 0 else "-" for s in signs)


def _name(panel: Panel) -> str:
    return f"{panel.mark} {panel.name}"
