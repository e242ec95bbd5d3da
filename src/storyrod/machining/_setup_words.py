"""What a set-up card says in words: title, why, and the trial joint."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from storyrod.machining._nouns import noun_of
from storyrod.machining._reference import NEAREST
from storyrod.machining._settings import Placed
from storyrod.model.machining import JigKind
from storyrod.model.workshop import Registration


def title_of(placed: Sequence[Placed], *, finishing: bool = False) -> str:
    """Return what a set-up does, as `holes 8, 24 deep, in edges and ends`."""
    first = placed[0].made.need
    what = noun_of(first)
    if finishing:
        return f"countersink {what}"
    deep = "through" if placed[0].setting.through else f"{first.lengths.n(first.first.depth)} deep"
    return f"{what}, {deep}, {_where(placed)}"


def _where(placed: Sequence[Placed]) -> str:
    edges = any(p.made.need.on_edge for p in placed)
    faces = any(not p.made.need.on_edge for p in placed)
    if edges and faces:
        return "in edges and faces"
    if edges:
        return "in edges and ends"
    mode = placed[0].mode
    if placed[0].setting.reference_to_centre is None:
        return "in faces"
    return "in faces, from a line" if mode == "line" else "in faces, along ends and edges"


DURING: Final = ", during the assembly"
IN_PLACE: Final = (
    "Drill these during assembly, not before: at the step that closes the joint, with both panels held in place."
)
"""Said of holes that are drilled through their mates."""


def why_of(placed: Sequence[Placed]) -> str:
    """Return why the work is placed from where it is, each reason once."""
    first = placed[0]
    way = first.setting.registration
    if way is Registration.MATE:
        return "Drilled through the holes in the mate, so the two cannot differ."
    if way is Registration.MARK and first.jig is not None and first.jig.kind is JigKind.TEMPLATE:
        return "A hand hold may be half a millimetre out: the template is set to its centre marks."
    if first.made.need.lines_up:
        return _pins_why(first)
    if way is Registration.MARK:
        return "Nothing here has to meet to a tenth: marks and a careful eye will do."
    if way is Registration.LINE:
        return "The straight edge keeps the cut straight; its position is worked out from the wall of the cut."
    if first.made.reference.same_face:
        return (
            "Both halves of a joint are placed from the same face of the entering panel, so an error in its thickness "
            "shows on the other face only."
        )
    reasons = dict.fromkeys(p.made.reference.why for p in placed)
    if len(reasons) > 1 and all(r.endswith(NEAREST) for r in reasons):
        return f"Each is placed from the end or edge that{NEAREST}"
    return " ".join(list(reasons)[:3])


def _pins_why(placed: Placed) -> str:
    """Return how rows of shelf pins come to be level with each other."""
    if placed.jig is None:
        return (
            "Four pins carry a shelf, so their rows must be level. No jig here drills them: mark all the uprights "
            "together, bottom ends in line, with one square line across them."
        )
    return (
        "Four pins carry a shelf, so their rows must be level. All are drilled through one template, its stop on the "
        "bottom end of every upright; turned over it serves the other hand."
    )


_READING: Final = 0.3
"""What stands in a command for the reading that the maker puts there (mm)."""


BY_PAGE: Final = "the page"
"""Who corrects a setting where a page is open, which can do it itself."""


def trial_of(placed: Placed, number: str, earlier: tuple[str, ...] | None, *, by_page: bool = False) -> tuple[str, str]:
    """Return the trial joint of the set-up of that number, and what its reading corrects.

    `by_page` says that it is read on a page, which corrects a setting itself; on paper a command does.
    """
    made, setting, lengths = placed.made, placed.setting, placed.made.need.lengths
    reading = lengths.bare(_READING)
    if made.need.locates:
        if earlier is None:
            return (
                "Make the same cut in a scrap of the same sheet and keep it for the trial joint of a later set-up.",
                "",
            )
        other = f"the scrap from {' and '.join(earlier)}" if earlier else "its other half in a second scrap"
        corrects = BY_PAGE if by_page else _command(number, f"--step {reading}")
        words = (
            f"Cut a scrap of the same sheet, put it together with {other}, and measure the step between the faces. "
            f"More than {lengths.told(0.1)}: {corrects} gives the packer that corrects it."
        )
        return words, "packer"
    if setting.registration is Registration.EDGE and setting.fence is not None:
        corrects = BY_PAGE if by_page else _command(number, f"--fence {reading}")
        puts_right = f"{corrects} gives the fence that puts it right."
        return f"Cut a scrap and measure from its edge to the cut. Where it is off, {puts_right}", "fence"
    if setting.registration is Registration.LINE:
        return ("Cut a scrap and try the mate in it: it goes in by hand, with no play.", "depth")
    return ("", "")


def _command(number: str, reading: str) -> str:
    """Return the command that corrects a set-up, in quotation marks, with a reading in place of the maker's own."""
    return f"\u201cstoryrod trial JOB --set-up {number} {reading}\u201d, with what you measured,"
