"""A jig's own cutting list, how it is checked, and what to watch for in using it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from storyrod.machining._jig_holds import FENCE_HIGH, FENCE_LOW
from storyrod.model.machining import (
    FENCE_THICKNESS,
    STOP_LENGTH,
    STOP_THICKNESS,
    HoldKind,
    JigKind,
    JigPlan,
    Piece,
    Sentence,
)

STOP_HEIGHT: Final = 12.0
"""How far a stop hangs down: less than the usual board is thick, so that it does not meet the bench (mm); common
practice, no source."""

TRUE_TO: Final = 0.1
"""How near a jig's figures are measured (mm); common practice, no source."""


def say(words: str, **lengths: float | tuple[float, ...]) -> Sentence:
    """Return a sentence with lengths in its named gaps."""
    return Sentence(words, tuple((n, v if isinstance(v, tuple) else (v,)) for n, v in lengths.items()))


def fence_height(plan: JigPlan) -> float:
    """Return how far the fence hangs down: further where clamps grip it across an edge."""
    return FENCE_HIGH if any(h.across for h in plan.holds) else FENCE_LOW


def pieces_of(plan: JigPlan) -> tuple[Piece, ...]:
    """Return what a jig is made of: template, a fence and stops that are screwed under it, and what holds a part.

    Fence and stops are on the side of the work only: on the other the drill's chuck or the router's base would meet
    them.
    """
    pieces = [Piece(name="template", count=1, length=plan.length, width=plan.width, thickness=plan.thickness)]
    if plan.has_fence:
        pieces.append(
            Piece(
                name="fence, on edge under the template",
                count=1,
                length=plan.length,
                width=fence_height(plan),
                thickness=FENCE_THICKNESS,
            )
        )
    if plan.stops:
        pieces.append(
            Piece(
                name="stop block",
                count=len(plan.stops),
                length=STOP_LENGTH,
                width=STOP_HEIGHT,
                thickness=STOP_THICKNESS,
            )
        )
    return (*pieces, *dict.fromkeys(p for h in plan.holds for p in h.pieces))


def checks_of(plan: JigPlan) -> tuple[Sentence, ...]:
    """Return how a jig is checked before it is trusted."""
    return tuple(_checks(plan))


def _checks(plan: JigPlan) -> Iterator[Sentence]:
    first, last = plan.stations[0], plan.stations[-1]
    if plan.kind is JigKind.TEMPLATE:
        yield say("Cut one opening in scrap and hold the fitting, or a hand, in it.")
    elif len(plan.stations) > 1:
        yield say(
            "Measure from the zero to the first station, {first}, and to the last, {last}: within {near}.",
            first=first,
            last=last,
            near=TRUE_TO,
        )
    else:
        yield say("Measure from the zero to its station, {first}: within {near}.", first=first, near=TRUE_TO)
    if plan.has_fence:
        yield say(
            "Fence to centre line: {reference} at both ends; the fence square to the template.",
            reference=plan.reference,
        )
    if plan.base is not None:
        yield say(
            "Unplugged, with its bush in, run the router through every opening: its base stays on the template all "
            "the way and clears the clamps."
        )
    if len(plan.hands) > 1:
        yield say("Cut one scrap as drawn and one with the jig turned over; lay them face to face: the cuts must meet.")
    if plan.kind is JigKind.PINS:
        yield say(
            "Drill a front and a back row in two scraps, left and right hand; stand them on end: the pins are level."
        )
    if plan.in_step_with:
        yield say(
            f"Lay it on {plan.in_step_with}, zero on zero: a rod that fits must pass through both wherever both have "
            f"a station."
        )
    if plan.kind is not JigKind.TEMPLATE:
        yield _test_piece(plan)
    if plan.kind in (JigKind.EDGE, JigKind.LINE):
        yield say("Make a trial joint in two scraps of the board, and feel the step with a fingernail.")


def _test_piece(plan: JigPlan) -> Sentence:
    """Return the test piece: one scrap, and the two figures that are measured on it."""
    where = "the edge at the fence" if plan.has_fence else "the line it was set on"
    return say(
        f"Test piece: work the first station in a scrap of the board. From {where} to the middle of the cut "
        "{reference}, from the edge at the stop {first}.",
        reference=plan.reference,
        first=plan.stations[0] - min((s.at for s in plan.stops), key=abs, default=0.0),
    )


def notes_of(plan: JigPlan) -> tuple[Sentence, ...]:
    """Return what to watch for in using a jig, the safety of hands and work first."""
    return tuple(_notes(plan))


def _notes(plan: JigPlan) -> Iterator[Sentence]:
    yield from _safety(plan)
    if plan.owned:
        yield say("You own it: use it as it is. Set its fence or line to the figure given.")
    if len(plan.hands) > 1:
        what = "fence and stops" if plan.has_fence else "stops"
        yield say(f"Turned over end for end it serves the other hand: move {what} to the face that is on the work.")
    near = [
        f"{a.label} and {b.label}"
        for a, b in pairwise(sorted(plan.stops, key=lambda s: s.at))
        if b.at - a.at < STOP_THICKNESS
    ]
    if near:
        yield say(f"Stops {', '.join(near)} are too close to be on together: drill for both, screw one on.")
    if plan.small:
        yield say("For narrow parts, which a long jig cannot be clamped to.")


def _safety(plan: JigPlan) -> Iterator[Sentence]:
    """Yield where clamps go, where to stand, and what comes of the piece that is cut free."""
    far_side = "away from the fence" if plan.has_fence else "at the bottom of the drawing"
    if plan.base is not None:
        yield say(
            "Keep clamps out of the base's path, drawn dashed: from {left} to {right} along the jig, and {across} "
            "to each side of the centre line. Always two clamps.",
            left=plan.sweep.left,
            right=plan.sweep.right,
            across=plan.sweep.far,
        )
        yield say(f"Stand at the long side {far_side}, both hands on the router, the cable behind your shoulder.")
    else:
        yield say(
            "Keep clamps {across} clear of every hole, so that the chuck clears them. Always two clamps.",
            across=plan.sweep.far,
        )
        yield say(f"Stand at the long side {far_side}, both hands on the drill, and no hand under the part.")
    if plan.kind is JigKind.TEMPLATE:
        yield say(
            "The piece inside the opening can be thrown when it comes free: the set-up's card says whether it is "
            "screwed down or cleared away. Lift the router only once the cutter has stopped."
        )
    if any(h.kind is HoldKind.FENCES and h.beside for h in plan.holds):
        yield say("On an edge, always fit the second fence: with one fence alone the base tips.")
