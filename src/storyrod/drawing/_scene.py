"""What one set-out drawing shows: which face, marks, joint lines and edges, at what scale."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from storyrod.drawing._figures import Figures
from storyrod.drawing._unfolded import EDGES, Unfolded
from storyrod.model.mark import JointLine, Mark, PanelSetOut
from storyrod.model.panel import Panel, Surface

GAP = 6.5
STRIP = 8.0
"""On paper: between face and folded edge; least thickness of an edge as drawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Manner:
    """How a face is drawn where one drawing serves several panels.

    Attributes:
        lengths: the letter that stands in place of a figure along the panel, by the figure.
        widths: the same across it.
        mates: what is written at the line of a joint in place of the mate's mark and the joint's number, by the number.
        figured: whether figures stand at all; without them, a drawing shows what lies where.
    """

    lengths: Mapping[str, str] = field(default_factory=dict)
    widths: Mapping[str, str] = field(default_factory=dict)
    mates: Mapping[str, str] = field(default_factory=dict)
    figured: bool = True


PLAIN = Manner()
"""As a panel's own sheet is drawn: every figure, and each mate by its mark."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """One face of a panel with what belongs to it; lengths of paper are multiplied by `unit`.

    `marks` and `lines` are those shown and figured, `behind` the marks in the face that looks down. `true_size` draws
    edges as thick as they are and counts the marks of both faces, for a drawing file.
    """

    panel: Panel
    face: Surface
    figures: Figures
    unit: float
    marks: tuple[Mark, ...]
    behind: tuple[Mark, ...]
    lines: tuple[JointLine, ...]
    edges: tuple[Surface, ...]
    unfolded: Unfolded
    true_size: bool = False
    manner: Manner = PLAIN

    def is_on_face(self, mark: Mark) -> bool:
        """Whether a mark counts among those of the face shown."""
        return mark.surface is self.face or (self.true_size and mark.surface is self.face.opposite)


def scene_of(
    set_out: PanelSetOut,
    face: Surface,
    figures: Figures,
    unit: float,
    *,
    with_edges: bool,
    true_size: bool = False,
    manner: Manner = PLAIN,
) -> Scene:
    """Return what is to be seen of a panel with `face` up."""
    panel = set_out.panel
    faces = {face, face.opposite} if true_size else {face}
    shown = faces | (set(EDGES) if with_edges else set())
    marks = tuple(m for m in set_out.marks if m.surface in shown)
    used = {m.surface for m in marks}
    stretch = 1.0 if true_size else max(1.0, STRIP * unit / panel.thickness)
    return Scene(
        panel=panel,
        face=face,
        figures=figures,
        unit=unit,
        marks=marks,
        behind=tuple(m for m in set_out.marks if m.surface is face.opposite),
        lines=tuple(line for line in set_out.lines if line.surface in faces),
        edges=tuple(e for e in EDGES if with_edges and (e in used or e is Surface.FACE_EDGE)),
        unfolded=Unfolded(panel=panel, face=face, gap=GAP * unit, stretch=stretch),
        true_size=true_size,
        manner=manner,
    )
