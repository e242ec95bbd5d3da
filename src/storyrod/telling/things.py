"""What can be ticked in a plan, and whether what was done is still what is wanted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Final

from storyrod.measure.length import show_mm
from storyrod.measure.writing import METRIC, LengthWriter
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
from storyrod.model.panel import Panel, PanelId
from storyrod.model.quoting import Finish
from storyrod.planning import Plan
from storyrod.telling import identity
from storyrod.telling.first_ticks import is_still_by_words


class ThingKind(StrEnum):
    """What is ticked. The values begin the ids of things, which stand in logs: none is ever changed."""

    PANEL = "panel"
    CUT = "cut"
    FINISH = "finish"
    EDGE = "edge"
    MARK = "mark"
    FIT = "fit"
    JOINT = "joint"
    PLACE = "place"
    COAT = "coat"
    SHEETS = "sheets cut"

    def of(self, about: str) -> str:
        """Return the id of the thing of this kind that is about a panel, a cut, a joint, a body or a version."""
        return f"{self.value} {about}"


def is_sheets_cut(thing: str) -> bool:
    """Return whether the id of a thing says that the sheets of one version of a job are cut."""
    return thing.startswith(ThingKind.SHEETS.of(""))


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """Something that can be ticked: a panel cut, a mark made, a joint closed.

    Attributes:
        id: stays the same from plan to plan, as long as it is the same thing.
        name: what a maker calls it.
        content: what exactly was done, in words.
        key: the same in figures and codes, see `identity`; where it differs in a later plan, the tick no longer holds.
            Empty for what was ticked before logs kept it: then the words are compared.
        other_methods: of a joint, the names of the methods that it is not held by. Words that name one of them are of
            another joint; words that name none of them, nor its own, call its method as it was called once.
    """

    id: str
    name: str
    content: str
    key: str = ""
    other_methods: tuple[str, ...] = field(default=(), repr=False, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A thing that is made whatever the way of working, with the case whose copies are ticked apart."""

    thing: Thing
    kind: ThingKind
    about: str
    case: str


_SIZES: Final[Mapping[type[Shape], tuple[str, ...]]] = {
    Hole: ("diameter", "depth", "countersink", "point"),
    Slot: ("length", "width", "depth"),
    Keyhole: ("entry diameter", "slot width", "undercut width", "lip", "depth", "travel"),
    SegmentPocket: ("disc", "depth", "width"),
    UndercutSlot: ("length", "width", "undercut width", "lip", "depth"),
    Channel: ("length", "width", "depth"),
    CutOut: ("length", "height", "corner", "depth"),
    AngledPocket: ("diameter", "pilot", "angle deg", "length"),
}
"""The sizes by which a cut is told, in words; the first logs kept these words and nothing else."""


def things_made(plan: Plan) -> tuple[Thing, ...]:
    """Return what is made whatever the way of working: panels cut, cuts made, joints closed."""
    return tuple(m.thing for m in made_in(plan))


def made_in(plan: Plan) -> Iterator[Made]:
    """Yield what is made whatever the way of working, case by case."""
    methods = {m.code: m.name for m in plan.workshop.methods}
    for case, out in zip(plan.details.cases, plan.set_out.cases, strict=True):
        code = case.built.case.code
        for told in out.panels:
            yield Made(thing=_panel(told.panel), kind=ThingKind.PANEL, about=told.panel.id, case=code)
            for mark in told.marks:
                yield Made(thing=_cut(told.panel, mark), kind=ThingKind.CUT, about=mark.feature.id, case=code)
        names = {p.id: f"{p.mark} {p.name}" for p in case.panels}
        for joint in case.joints:
            thing = Thing(
                id=ThingKind.JOINT.of(joint.id),
                name=f"{joint.number} closed",
                content=joint_words(joint, names, plan.details.method(joint.method).name, METRIC),
                key=identity.of_joint(joint),
                other_methods=tuple(name for m, name in methods.items() if m != joint.method),
            )
            yield Made(thing=thing, kind=ThingKind.JOINT, about=joint.id, case=code)


def _panel(panel: Panel) -> Thing:
    size = " x ".join(show_mm(x) for x in (panel.cut_length, panel.cut_width, panel.thickness))
    return Thing(
        id=ThingKind.PANEL.of(panel.id),
        name=f"{panel.mark} {panel.name} cut",
        content=f"{size}, {panel.board}",
        key=identity.of_panel(panel),
    )


def coats_of(finish: Finish, case: str) -> tuple[Thing, ...]:
    """Return the coats of a finish on a case, each a thing to tick."""
    return tuple(
        Thing(
            id=ThingKind.COAT.of(f"{case} {n}"),
            name=f"coat {n} of {finish.coats} on case {case}",
            content=f"{finish.name}, coat {n}",
            key=identity.of_coat(finish.name, n),
        )
        for n in range(1, finish.coats + 1)
    )


def joint_words(joint: Joint, names: Mapping[PanelId, str], method: str, lengths: LengthWriter) -> str:
    """Return which panels a joint holds, by what, and where its connectors are."""
    words = f"{names[joint.entering]} to {names[joint.receiving]}, {method}"
    if not joint.stations:
        return words
    return f"{words}, {len(joint.stations)} at {', '.join(map(lengths.n, joint.stations))}"


def _cut(panel: Panel, mark: Mark) -> Thing:
    return Thing(
        id=ThingKind.CUT.of(mark.feature.id),
        name=f"{panel.mark} {panel.name}, mark {mark.number} on the {mark.surface.value}",
        content=_cut_words(mark.feature, mark),
        key=identity.of_cut(mark.feature, mark),
    )


def _cut_words(feature: Feature, mark: Mark) -> str:
    """Return kind, sizes and place of a cut, as marked."""
    shape = feature.shape
    sizes = ((word, getattr(shape, word.replace(" ", "_"))) for word in _SIZES[type(shape)])
    figures = [f"{word} {show_mm(value)}" for word, value in sizes if isinstance(value, float)]
    place = ", ".join(f"{axis} {show_mm(getattr(mark, axis))}" for axis in "uvw")
    turns = "".join(
        f", {name.replace('_', ' ')} {value}"
        for name in ("run", "lock_sign", "sign")
        if (value := getattr(shape, name, None)) is not None
    )
    return f"{feature.kind} {', '.join(figures)} at {place}{turns}"


def is_still(done: Thing, now: Thing) -> bool:
    """Return whether what was done is what is wanted now: by its key, or by its words where it was kept without one."""
    if done.key and now.key:
        return identity.is_same(done.key, now.key)
    if now.id.startswith(ThingKind.JOINT.of("")):
        return is_still_by_words(done.content, now.content, other_methods=now.other_methods)
    return is_still_by_words(done.content, now.content, is_cut=now.id.startswith(ThingKind.CUT.of("")))
