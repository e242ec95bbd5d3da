"""A jig's own cutting list, and how it is checked, in words."""

from __future__ import annotations

from itertools import pairwise

from storyrod.measure.length import show_mm
from storyrod.model.machining import JigKind, JigPlan, Piece

FENCE_HEIGHT = 30.0
FENCE_THICKNESS = 18.0
STOP_THICKNESS = FENCE_THICKNESS
STOP_LENGTH = 60.0
STOP_WIDTH = 30.0


def pieces_of(plan: JigPlan) -> tuple[Piece, ...]:
    """Return what a jig is made of: template, a fence and stops that are screwed under it.

    They stand on the side of the work only: on the other the drill's chuck or the router's base would meet them.
    """
    pieces = [Piece(name="template", count=1, length=plan.length, width=plan.width, thickness=plan.thickness)]
    if plan.has_fence:
        pieces.append(
            Piece(
                name="fence, on edge under the template",
                count=1,
                length=plan.length,
                width=FENCE_HEIGHT,
                thickness=FENCE_THICKNESS,
            )
        )
    if plan.stops:
        pieces.append(
            Piece(
                name="stop block",
                count=len(plan.stops),
                length=STOP_LENGTH,
                width=STOP_WIDTH,
                thickness=STOP_THICKNESS,
            )
        )
    return tuple(pieces)


def checks_of(plan: JigPlan) -> tuple[str, ...]:
    """Return how a jig is checked before it is trusted."""
    first = show_mm(plan.stations[0], 2)
    checks = []
    if plan.kind is JigKind.TEMPLATE:
        checks.append("Cut one opening in scrap and hold the fitting, or a hand, in it.")
    elif len(plan.stations) > 1:
        last = show_mm(plan.stations[-1], 2)
        checks.append(f"Measure from the zero to the first station, {first}, and to the last, {last}: within 0.1 mm.")
    else:
        checks.append(f"Measure from the zero to its station, {first}: within 0.1 mm.")
    if plan.has_fence:
        checks.append(
            f"Fence to centre line: {show_mm(plan.reference, 2)} at both ends; the fence square to the template."
        )
    if len(plan.hands) > 1:
        checks.append(
            "Cut one scrap as drawn and one with the jig turned over; lay them face to face: the cuts must meet."
        )
    if plan.in_step_with:
        checks.append(
            f"Lay it on {plan.in_step_with}, zero on zero: a rod that fits must pass through both wherever both have "
            "a station."
        )
    if plan.kind in (JigKind.EDGE, JigKind.LINE):
        checks.append("Make a trial joint in two scraps of the board, and feel the step with a fingernail.")
    return tuple(checks)


def notes_of(plan: JigPlan) -> tuple[str, ...]:
    """Return what to mind in making and using a jig."""
    notes = []
    if plan.owned:
        notes.append("Owned: it is used as it is. Set its fence or line to the figure given.")
    if plan.in_step_with and not plan.owned:
        notes.append(f"Clamp it to {plan.in_step_with}, zero on zero, and make the stations that both have in one go.")
    if len(plan.hands) > 1:
        what = "fence and stops" if plan.has_fence else "stops"
        notes.append(
            f"Turned over end for end it serves the other hand. Change {what} over to the face that then lies on the "
            "work: bore their screw holes through the template, so that they stand at the same place on both faces."
        )
    if plan.kind is JigKind.LINE and plan.line_ups:
        notes.append("Scribe the line-up marks across both ends with a knife, on both faces.")
    elif plan.kind is JigKind.LINE:
        notes.append("Its long edge is set on the face line, against a straight batten clamped there.")
    near = [
        f"{a.label} and {b.label}"
        for a, b in pairwise(sorted(plan.stops, key=lambda s: s.at))
        if b.at - a.at < STOP_THICKNESS
    ]
    if near:
        notes.append(f"Stops {', '.join(near)} are too near each other to be on at once: drill for both, screw on one.")
    if plan.small:
        notes.append("For narrow parts, which no long jig can be clamped to.")
    if plan.bush is None and plan.kind is not JigKind.TEMPLATE:
        notes.append("Line the holes with hardened drill bushes, or bore it anew when a drill runs loose.")
    return tuple(notes)
