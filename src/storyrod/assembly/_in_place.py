"""How a case goes to its place: over a skirting board, its sides scribed to the wall, fillers beside it; in words."""

from __future__ import annotations

from collections.abc import Iterator

from storyrod.assembly._words import called
from storyrod.measure.tolerance import EXACT
from storyrod.measure.writing import LengthWriter
from storyrod.model.detail import JoinedCase
from storyrod.model.job import Case
from storyrod.model.panel import Panel, Role


def is_placed(case: Case) -> bool:
    """Return whether a case that stands has a step of its own in which it goes to its place, empty."""
    return case.hung is None and (case.skirting is not None or case.scribe is not None or case.fillers is not None)


def words_of_place(case: JoinedCase, lengths: LengthWriter) -> Iterator[str]:
    """Yield the sentences of that step."""
    about, told = case.built.case, lengths.told
    yield "Push the case back to the wall, and set it level and plumb."
    if about.fillers is not None:
        sides = (("left", about.fillers.left), ("right", about.fillers.right))
        gaps = [f"{told(gap)} beside its {word} side" for word, gap in sides if gap is not None]
        yield f"The gap for a filler is {' and '.join(gaps)} at the most."
    if about.skirting is not None:
        board = about.skirting
        yield (
            f"Its sides go over a skirting board {told(board.height)} high and {told(board.depth)} thick, with "
            f"{told(board.clearance)} to spare over it and before it; where the board is more, rasp the notch."
        )
    scribed = [p for p in case.panels if p.scribed is not None and p.role is not Role.FILLER]
    for panel in scribed:
        assert panel.scribed is not None  # noqa: S101  # of those alone
        yield (
            f"Scribe the rear edge of {panel.mark} {panel.name} to the wall: {told(panel.scribed.allowance)} of it is "
            "there to come off."
        )
    if scribed:
        yield "Draw the case out, plane to the line, and push it back."


def words_of_filler(filler: Panel, lengths: LengthWriter) -> str:
    """Return how a filler is scribed and where it lies."""
    told = lengths.told
    behind = filler.box.low.y
    word = "left" if filler.box.low.x < 0 else "right"
    gap = filler.width - (filler.scribed.allowance if filler.scribed is not None else 0.0)
    lies = f"{told(behind)} behind" if behind > EXACT else "flush with"
    scribe = (
        f"scribe its {word} edge to the wall until it goes into its gap of {told(gap)}: "
        f"{told(filler.scribed.allowance)} is there to come off"
        if filler.scribed is not None
        else f"it goes into its gap of {told(gap)}"
    )
    return f"For {called(filler.name)}, {scribe}. Set its face {lies} the front edge of the {word} side."
