"""What stands beside a shelf or divider that is shifted: fitted as the plan would have it, or only where it must be."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from storyrod.measure.space import AXES, Box
from storyrod.measure.writing import LengthWriter
from storyrod.model.detail import DetailedCase
from storyrod.model.panel import Panel, PanelId, Role
from storyrod.model.rescue import Move, MoveKind, Piece, PieceId, Seat
from storyrod.rescue._costs import EACH_ANEW, EACH_FITTED, MINUTES
from storyrod.rescue._draft import Bench, Draft
from storyrod.rescue._limits import NEAR
from storyrod.rescue._pieces import blank


@dataclass(slots=True)
class _Fitted:
    """Pieces and places after what stands beside was fitted, with what that came to."""

    pieces: dict[PieceId, Piece]
    seats: dict[PanelId, Seat]
    trimmed: list[str]
    anew: list[str]
    cents: list[float | None]


def fitted(
    bench: Bench, draft: Draft, panel: Panel, far: tuple[float, str], shifted: DetailedCase
) -> Iterator[tuple[Move, Draft]]:
    """Yield a panel shifted with all that stands beside it made to fit, where that is of other sizes then.

    Either all of it is as the plan would have it, drawers and doors too; or only loose shelves are trimmed, and the
    runners of drawers that have more room are packed out. `far` is how far, in mm and in words.
    """
    by, words = far
    case = bench.by_shift(panel.id, by) if draft.case is bench.case else None
    if case is None:
        return
    made = _fit(bench, draft, case.panels)
    if made.trimmed or made.anew:
        told = [f"trim {', '.join(made.trimmed)}"] * bool(made.trimmed)
        told += [f"saw again {', '.join(made.anew)}"] * bool(made.anew)
        move = Move(
            kind=MoveKind.FIT,
            code=f"{MoveKind.FIT.value} {panel.mark} {words}",
            text=f"Shift {_name(panel)} {words}, with all its joints, and fit what stands beside it: "
            f"{'; '.join(told)}.",
            minutes=MINUTES[MoveKind.FIT] + EACH_FITTED * len(made.trimmed) + EACH_ANEW * len(made.anew),
            cents=None if None in made.cents else sum(c for c in made.cents if c is not None),
            risk=1,
            watch="What is not sawn yet is sawn to the new size at once, and costs nothing more.",
        )
        yield move, replace(draft, case=case, pieces=made.pieces, seats=made.seats).after(move)
    yield from _packed_out(bench, draft, panel, far, (case, shifted))


def _packed_out(
    bench: Bench, draft: Draft, panel: Panel, far: tuple[float, str], cases: tuple[DetailedCase, DetailedCase]
) -> Iterator[tuple[Move, Draft]]:
    (by, words), (planned, shifted) = far, cases
    smaller = {p.id: p for p in planned.panels if p.role is Role.LOOSE_SHELF and _is_smaller(p, draft)}
    drawers = zip(planned.built.drawers, shifted.built.drawers, strict=True)
    wider = [d.name for d, was in drawers if _grew(d.box, was.box)]
    if not smaller and not wider:
        return
    case = replace(shifted, panels=tuple(smaller.get(p.id, p) for p in shifted.panels), _by_panel={})
    made = _fit(bench, draft, tuple(smaller.values()))
    lengths: LengthWriter = bench.lengths
    has_fronts = bool(planned.built.drawers or planned.built.doors)
    told = [f"trim {', '.join(made.trimmed)}"] * bool(made.trimmed)
    told += [f"pack out one runner of {', '.join(wider)} by {lengths.told(abs(by))}"] * bool(wider)
    move = Move(
        kind=MoveKind.FIT,
        code=f"{MoveKind.FIT.value} {panel.mark} {words} packed",
        text=f"Shift {_name(panel)} {words}, with all its joints, and {'; '.join(told)}.",
        minutes=MINUTES[MoveKind.FIT] + EACH_FITTED * (len(made.trimmed) + len(wider)),
        risk=1,
        seen=1 if has_fronts else 0,
        watch=f"Fronts and doors beside {panel.mark} stand {lengths.told(abs(by))} to one side of their openings."
        if has_fronts
        else f"Loose shelves beside {panel.mark} have up to {lengths.told(abs(by))} more play.",
    )
    yield move, replace(draft, case=case, pieces=made.pieces, seats=made.seats).after(move)


def _fit(bench: Bench, draft: Draft, panels: tuple[Panel, ...]) -> _Fitted:
    """Trim the pieces that are larger than their panels, and take new ones for those that are smaller.

    What is cut, glued or damaged stays as it is: whether it fits is asked like anything else.
    """
    made = _Fitted(dict(draft.pieces), dict(draft.seats), [], [], [])
    for now in panels:
        piece, before = draft.piece_in(now.id), draft.case.panel(now.id)
        is_same = (now.length, now.width) == (before.length, before.width)
        if is_same or piece.cuts or piece.glued or piece.damage or piece.is_lost:
            continue
        told = f"{_name(now)} to {bench.lengths.told_size(now.length, now.width)}"
        if piece.length >= now.length - NEAR and piece.width >= now.width - NEAR:
            made.pieces[piece.id] = replace(piece, length=now.length, width=now.width)
            made.trimmed.append(told)
        else:
            new = blank(now, "+")
            made.pieces[new.id], made.seats[now.id] = new, Seat(piece=new.id)
            made.anew.append(told)
            made.cents.append(bench.price_of(now.id))
    return made


def _is_smaller(panel: Panel, draft: Draft) -> bool:
    before = draft.case.panel(panel.id)
    return panel.length < before.length - NEAR or panel.width < before.width - NEAR


def _grew(now: Box, was: Box) -> bool:
    return any(now.size(a) > was.size(a) + NEAR for a in AXES)


def _name(panel: Panel) -> str:
    return f"{panel.mark} {panel.name}"
