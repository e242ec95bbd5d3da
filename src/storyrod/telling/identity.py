"""What exactly was done, in figures and codes: by it a tick is known again when the job is planned anew.

No word that a maker reads is in it: a method, a panel or a figure may get another name, and every tick holds. It is
written as one line of JSON that begins with its version; a later version reads the lines of every earlier one.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from typing import Any, Final

from storyrod.measure.space import PanelAxis
from storyrod.model.assembly import ByHand, StepKind
from storyrod.model.feature import (
    AngledPocket,
    Channel,
    CutOut,
    Feature,
    Hole,
    Keyhole,
    SegmentPocket,
    Shape,
    Slot,
    UndercutSlot,
)
from storyrod.model.joint import Joint
from storyrod.model.mark import Mark
from storyrod.model.panel import Panel

VERSION: Final = 1
"""Raised when a line says something otherwise than before; `is_same` must then know how to read both."""

NEAR_ENOUGH: Final = 0.05 + 1e-6
"""Figures (mm) are the same within half of the tenth to which the first logs wrote them."""

_AXES: Final[Mapping[PanelAxis, str]] = {PanelAxis.U: "u", PanelAxis.V: "v", PanelAxis.W: "w"}

_SHAPES: Final[Mapping[type[Shape], tuple[str, Callable[[Any], tuple[object, ...]]]]] = {
    Hole: ("hole", lambda s: (s.diameter, s.depth, s.countersink, s.point)),
    Slot: ("slot", lambda s: (s.length, s.width, s.depth, _AXES[s.run])),
    Keyhole: (
        "keyhole",
        lambda s: (
            *(s.entry_diameter, s.slot_width, s.undercut_width, s.lip, s.depth, s.travel),
            *(_AXES[s.run], s.lock_sign),
        ),
    ),
    SegmentPocket: ("segment", lambda s: (s.disc, s.depth, s.width, _AXES[s.run])),
    UndercutSlot: ("undercut", lambda s: (s.length, s.width, s.undercut_width, s.lip, s.depth, _AXES[s.run])),
    Channel: ("channel", lambda s: (s.length, s.width, s.depth, _AXES[s.run])),
    CutOut: ("cut-out", lambda s: (s.outline, s.length, s.height, s.corner, s.depth, _AXES[s.run])),
    AngledPocket: ("angled", lambda s: (s.diameter, s.pilot, s.angle_deg, s.length, _AXES[s.run], s.sign)),
}
"""Each shape's code, and what tells one of its cuts from another. The codes stand in logs: none is ever changed."""


def of_cut(feature: Feature, mark: Mark) -> str:
    """Return the identity of a cut: its shape, its sizes and its place as marked."""
    code, sizes = _SHAPES[type(feature.shape)]
    return _line("cut", code, *sizes(feature.shape), "at", mark.u, mark.v, mark.w)


def of_finish(feature: Feature, mark: Mark) -> str:
    """Return the identity of a countersink: how wide, and where."""
    return _line("finish", getattr(feature.shape, "countersink", None), mark.u, mark.v, mark.w)


def of_panel(panel: Panel) -> str:
    """Return the identity of a panel sawn to size: its three sizes and its board."""
    return _line("panel", panel.cut_length, panel.cut_width, panel.thickness, panel.board)


def of_edging(panel: Panel) -> str:
    """Return the identity of edging a panel: which edges, with what."""
    strips = sorted((e.surface.name, e.edging) for e in panel.edged)
    return _line("edge", *(part for strip in strips for part in strip))


def of_marking(lines: int) -> str:
    """Return the identity of marking a panel's face side, face edge and so many joint lines."""
    return _line("mark", lines)


def of_fitting(item: str, count: int) -> str:
    """Return the identity of fitting so many of one connector."""
    return _line("fit", item, count)


def of_joint(joint: Joint) -> str:
    """Return the identity of a closed joint: its two panels, its method's code, its stations."""
    return _line("joint", joint.entering, joint.receiving, joint.method, *joint.stations)


def of_hand(one: ByHand) -> str:
    """Return the identity of something done by hand: what, how often, with what."""
    used = sorted((u.item, u.count) for u in one.uses)
    return _line("hand", one.act.value, one.count, *(part for use in used for part in use))


def of_coat(finish: str, number: int) -> str:
    """Return the identity of one coat of a finish."""
    return _line("coat", finish, number)


def of_placing(kind: StepKind) -> str:
    """Return the identity of bringing something into its place."""
    return _line("place", kind.value)


def of_sheets(layout: str, after: str) -> str:
    """Return the identity of sheets that are cut: by which layout, after which line of the rack's book, "" for none."""
    return _line("sheets", layout, after)


def book_line_of_sheets(key: str) -> str | None:
    """Return after which line of the rack's book sheets were cut; None where that was not kept."""
    parts = _parts(key)
    return str(parts[3]) if len(parts) == 4 and parts[1] == "sheets" else None


def is_same(before: str, after: str) -> bool:
    """Return whether two identities are one: codes alike, figures near enough."""
    if before == after:
        return True
    a, b = _parts(before), _parts(after)
    return len(a) == len(b) and all(map(_alike, a, b))


def _line(*parts: object) -> str:
    return json.dumps([VERSION, *map(_plain, parts)], separators=(",", ":"), ensure_ascii=False)


def _plain(part: object) -> object:
    """Return a figure to the hundredth, so that dust of reckoning makes no other line."""
    return round(part, 2) + 0.0 if isinstance(part, float) else part


def _parts(line: str) -> list[object]:
    try:
        found = json.loads(line)
    except ValueError:
        return [line]
    return found if isinstance(found, list) else [line]


def _alike(a: object, b: object) -> bool:
    if isinstance(a, int | float) and isinstance(b, int | float):
        return abs(a - b) <= NEAR_ENOUGH
    return a == b
