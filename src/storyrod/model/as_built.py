"""What came out at the bench otherwise than it was planned: facts, kept apart from the brief.

A slip says what is, never what should be. It names a panel by its mark and a cut by its number there, as they stand on
paper and on the board. Lengths are millimetres.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Final

from storyrod.model.panel import Surface
from storyrod.model.written import Length, Names, Number, Text, Told

ALL_CUTS: Final = "all"
"""Stands for every cut of a panel that is to be cut there."""

_OFF: Final = Length(-5000, 5000)


class SlipKind(StrEnum):
    """What went wrong."""

    SIZE = "size"
    ELSEWHERE = "elsewhere"
    WRONG_END = "wrong end"
    OTHER_FACE = "other face"
    DEPTH = "depth"
    WIDTH = "width"
    NOT_CUT = "not cut"
    TWICE = "twice"
    DAMAGE = "damage"
    LOST = "lost"
    GLUED = "glued"


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """One thing that is otherwise than it was planned."""

    panel: Annotated[str, Text(1, 60), Told("Mark of the panel, as `A3`.", example="A1")]
    kind: Annotated[SlipKind, Told("What went wrong.", name="what", example="lost")]
    copy: Annotated[int, Number(1, 999, whole=True), Told("Which of the cases that are made alike, from 1.")] = 1
    cuts: Annotated[
        tuple[str, ...],
        Names(0, 200),
        Told("Numbers of the cuts on the panel, numbers of joints as `J2`, or `all`."),
    ] = ()
    along: Annotated[
        float | None,
        _OFF,
        Told(
            "How much farther from the datum end the cuts are than marked, below 0 nearer to it; of cuts in an end, "
            "from the face edge."
        ),
    ] = None
    across: Annotated[
        float | None,
        _OFF,
        Told(
            "How much farther from the face edge the cuts are than marked, below 0 nearer to it; of cuts in an edge or "
            "end, from the face side."
        ),
    ] = None
    depth: Annotated[float | None, Length(0, 200), Told("How deep the cuts are.")] = None
    cut_width: Annotated[
        float | None, Length(0, 500), Told("How wide the cuts are: diameter of a hole, width of a slot or groove.")
    ] = None
    length: Annotated[float | None, Length(0, 5000), Told("Length that the panel has.")] = None
    width: Annotated[float | None, Length(0, 5000), Told("Width that the panel has.")] = None
    thickness: Annotated[float | None, Length(0, 100), Told("Thickness that the panel has.")] = None
    out_of_square: Annotated[
        float | None, Length(0, 500), Told("By how much the two diagonals of the panel differ.")
    ] = None
    surface: Annotated[Surface | None, Told("Surface that is damaged.")] = None
    from_end: Annotated[float | None, Length(0, 5000), Told("The damage's distance from the datum end.")] = None
    from_edge: Annotated[float | None, Length(0, 5000), Told("The damage's distance from the face edge.")] = None
    size: Annotated[float | None, Length(0, 2000), Told("How wide the damage is, at its widest.")] = None
    joints: Annotated[
        tuple[str, ...], Names(0, 200), Told("Joints that are glued; all of the panel's unless set.")
    ] = ()
    off: Annotated[
        float | None,
        _OFF,
        Told("How far the panel is glued off its lines: to the right, to the back or up above 0, else below 0."),
    ] = None
    note: Annotated[str, Text(0, 500), Told("Anything else about it.")] = ""
    when: Annotated[str, Text(0, 40), Told("When it was written down.")] = ""
    taken_back: Annotated[bool, Told("Whether it was taken back: it is kept, and counts no more.")] = False
    field: str = dataclasses.field(default="", compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """A way out that was taken: its moves, by their codes."""

    case: Annotated[str, Text(1, 60), Told("Code of the case.", example="A")]
    copy: Annotated[int, Number(1, 999, whole=True), Told("Which of the cases that are made alike, from 1.")] = 1
    moves: Annotated[
        tuple[str, ...], Names(1, 20), Told("Codes of its moves, in order.", example=["remake A.top"])
    ] = ()
    when: Annotated[str, Text(0, 40), Told("When it was taken.")] = ""
    taken_back: Annotated[bool, Told("Whether it was taken back: it is kept, and counts no more.")] = False
    field: str = dataclasses.field(default="", compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class AsBuilt:
    """What is, beside what was planned: what is cut, the slips, and the ways out that were taken."""

    cut: Annotated[
        tuple[str, ...],
        Names(0, 2000),
        Told("What is cut as marked: marks of panels (`A3`, all of it) or of cuts (`A3.2`); `A3.2#2` is of copy 2."),
    ] = ()
    slips: Annotated[tuple[Slip, ...], Told("What went wrong, in order.")] = ()
    taken: Annotated[tuple[Taken, ...], Told("Ways out that were taken, in order.")] = ()

    @property
    def standing(self) -> tuple[Slip, ...]:
        """The slips that were not taken back."""
        return tuple(s for s in self.slips if not s.taken_back)

    def taken_for(self, case: str, copy: int) -> tuple[Taken, ...]:
        """Return the ways taken for one copy of a case, without those taken back."""
        return tuple(t for t in self.taken if (t.case, t.copy) == (case, copy) and not t.taken_back)
