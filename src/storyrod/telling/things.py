"""What can be ticked in a plan, and whether what was done is still what is wanted."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final, get_args

from storyrod.measure.length import show_mm
from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.feature import Feature, Shape
from storyrod.model.joint import Joint
from storyrod.model.mark import Mark, PanelSetOut
from storyrod.model.panel import Panel, PanelId
from storyrod.plan import Plan

SHEETS_CUT: Final = "sheets cut"
"""How the id of the tick begins which says that the sheets of one version of a job are cut."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """Something that can be ticked: a panel cut, a mark made, a joint closed.

    Attributes:
        id: stays the same from plan to plan, as long as it is the same thing.
        name: what a maker calls it.
        content: what exactly was done, in words; where it differs in a later plan, the tick no longer holds.
    """

    id: str
    name: str
    content: str


def _first_figure(shape: type[Shape]) -> str:
    return next(f.name for f in dataclasses.fields(shape) if f.type == "float").replace("_", " ")


_KIND: Final = re.compile(rf"^[a-z -]+? (?=(?:{'|'.join(_first_figure(s) for s in get_args(Shape))}) [0-9])")
"""What a cut is called, before the first of its figures."""

_FIGURE: Final = re.compile(r"(?<![\w.])-?\d+(?:\.\d+)?(?![\w.])")
_HALF_A_TENTH: Final = 0.05 + 1e-6
"""Earlier versions wrote figures to a tenth of a millimetre, later ones to a hundredth (halves either way)."""


def things_made(plan: Plan) -> tuple[Thing, ...]:
    """Return what is made whatever the way of working: panels cut, cuts made, joints closed."""
    return tuple(_things(plan))


def _things(plan: Plan) -> Iterator[Thing]:
    for case, out in zip(plan.details.cases, plan.set_out.cases, strict=True):
        for told in out.panels:
            panel = told.panel
            yield Thing(id=f"panel {panel.id}", name=f"{panel.mark} {panel.name} cut", content=_panel_words(panel))
            yield from _cuts(told)
        names = {p.id: f"{p.mark} {p.name}" for p in case.panels}
        for joint in case.joints:
            words = joint_words(joint, names, plan.details.method(joint.method).name, METRIC)
            yield Thing(id=f"joint {joint.id}", name=f"{joint.number} closed", content=words)


def joint_words(joint: Joint, names: Mapping[PanelId, str], method: str, lengths: LengthWriter) -> str:
    """Return which panels a joint holds, by what, and where its connectors are."""
    words = f"{names[joint.entering]} to {names[joint.receiving]}, {method}"
    if not joint.stations:
        return words
    return f"{words}, {len(joint.stations)} at {', '.join(map(lengths.n, joint.stations))}"


def _cuts(told: PanelSetOut) -> Iterator[Thing]:
    for mark in told.marks:
        feature = mark.feature
        name = f"{told.panel.mark} {told.panel.name}, mark {mark.number} on the {mark.surface.value}"
        yield Thing(id=f"cut {feature.id}", name=name, content=_cut_words(feature, mark))


def _panel_words(panel: Panel) -> str:
    size = " x ".join(show_mm(x) for x in (panel.cut_length, panel.cut_width, panel.thickness))
    return f"{size}, {panel.board}"


def _cut_words(feature: Feature, mark: Mark) -> str:
    """Return kind, sizes and place of a cut, as marked: what must be the same for a tick to hold."""
    shape = feature.shape
    figures = []
    for field in dataclasses.fields(shape):
        value = getattr(shape, field.name)
        if field.name != "kind" and isinstance(value, float):
            figures.append(f"{field.name.replace('_', ' ')} {show_mm(value)}")
    place = ", ".join(f"{axis} {show_mm(getattr(mark, axis))}" for axis in "uvw")
    turns = "".join(
        f", {name.replace('_', ' ')} {value}"
        for name in ("run", "lock_sign", "sign")
        if (value := getattr(shape, name, None)) is not None
    )
    return f"{feature.kind} {', '.join(figures)} at {place}{turns}"


def is_still(done: Thing, now: Thing) -> bool:
    """Return whether what was done is what is wanted now.

    A cut is known by its figures and their names, which say what kind of cut it is: the word before them is for people,
    and a later version of the program may have another. Figures are the same within half of the tenth to which earlier
    versions wrote them.
    """
    if done.content == now.content:
        return True
    before, after = done.content, now.content
    if now.id.startswith("cut "):
        before, after = _KIND.sub("", before), _KIND.sub("", after)
    if _FIGURE.sub("#", before) != _FIGURE.sub("#", after):
        return False
    pairs = zip(_FIGURE.findall(before), _FIGURE.findall(after), strict=True)
    return all(abs(float(a) - float(b)) <= _HALF_A_TENTH for a, b in pairs)
