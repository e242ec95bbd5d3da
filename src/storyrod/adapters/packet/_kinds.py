"""Parts of one kind: those of several drawers that carry the same marks at other figures, told on one sheet.

One drawing serves them all: a figure that is not the same on each is a letter there, and a table has a row for each
part with what its letters come to.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from string import ascii_lowercase
from typing import Final, Self

from storyrod.adapters.packet._set_out_tables import AXES, is_even, numbers_of, runs_of, use_of, way_words
from storyrod.drawing import Figures, Manner
from storyrod.model.mark import Gang, JointLine, Mark, PanelSetOut
from storyrod.model.panel import Panel, PanelId, Role
from storyrod.telling.mark_extent import PlaceAxis, extent
from storyrod.telling.shown import Shown

_NAMES: Final[Mapping[Role, str]] = {
    Role.DRAWER_FRONT: "drawer fronts",
    Role.DRAWER_SIDE: "drawer sides",
    Role.DRAWER_BOX_FRONT: "drawer box fronts",
    Role.DRAWER_BACK: "drawer backs",
    Role.DRAWER_BOTTOM: "drawer bottoms",
}
"""Which parts are told by their kind, and what that is called."""

_MATES: Final[Mapping[Role, str]] = {
    Role.DRAWER_FRONT: "front",
    Role.DRAWER_SIDE: "side",
    Role.DRAWER_BOX_FRONT: "box front",
    Role.DRAWER_BACK: "back",
    Role.DRAWER_BOTTOM: "bottom",
}

_LETTERS: Final = "".join(c for c in ascii_lowercase if c not in "ilo")
"""Letters that no one takes for a figure."""

_MOST_LETTERS: Final = 14
_MOST_PARTS: Final = 12  # rows of a table of sizes, so that a sheet stays on its page

Outs = tuple[PanelSetOut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """What is known of the panels of a job, by their ids: panels themselves, and what their drawer is called."""

    panels: Mapping[PanelId, Panel]
    drawers: Mapping[str, str]

    def drawer_of(self, panel: Panel) -> str:
        """Return what the drawer of a part is called."""
        return self.drawers.get(panel.opening, "")

    def use_of(self, mark: Mark, panel: Panel) -> str:
        """Return what a mark is for, its own drawer not named: `runner of its drawer`."""
        name = self.drawer_of(panel)
        use = use_of(mark)
        return re.sub(rf"\b{re.escape(name)}\b", "its drawer", use) if name and not mark.joint else use

    def mate_names(self, out: PanelSetOut) -> dict[str, str]:
        """Return what the mate of each line of a part is called, by the joint's number: `back`, `side 2`."""
        roles = [self.panels[li.mate].role for li in out.lines]
        names: dict[str, str] = {}
        for n, (li, role) in enumerate(zip(out.lines, roles, strict=True)):
            word = _MATES.get(role, role.value)
            names[li.number] = word if roles.count(role) == 1 else f"{word} {roles[: n + 1].count(role)}"
        return names


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """Gangs whose parts are of one kind.

    Attributes:
        gangs: which, in order.
        members: the set-outs of each.
        letters: by axis and what a figure is on each gang, the letter that stands for it.
        drawn: which gang the drawing shows.
    """

    gangs: tuple[Gang, ...]
    members: tuple[Outs, ...]
    letters: Mapping[tuple[PlaceAxis, tuple[str, ...]], str]
    drawn: int
    parts: Parts

    @classmethod
    def of(
        cls, gangs: Sequence[Gang], members: Sequence[Outs], parts: Parts, shown: Shown, figures: Figures
    ) -> Self | None:
        """Return gangs of one signature as a kind; none where one drawing can not show them all."""
        found: dict[tuple[PlaceAxis, tuple[str, ...]], tuple[float, ...]] = {}
        for axis, values in _figures(members):
            found.setdefault((axis, tuple(map(shown.n, values))), values)
        apart = [key for key in found if len(set(key[1])) > 1]
        if len(apart) > _MOST_LETTERS:
            return None
        drawn = next((n for n in range(len(members)) if _is_plain(found, n, figures)), None)
        if drawn is None:
            return None
        apart.sort(key=lambda key: (key[0], found[key][drawn]))
        letters = dict(zip(apart, _LETTERS, strict=False))
        return cls(gangs=tuple(gangs), members=tuple(members), letters=letters, drawn=drawn, parts=parts)

    @property
    def name(self) -> str:
        """What the parts are called together."""
        return _NAMES[self.members[0][0].panel.role]

    def told(self, axis: PlaceAxis, texts: Sequence[str]) -> str:
        """Return a figure as it is told of all: itself, or its letter."""
        return texts[0] if len(set(texts)) == 1 else self.letters[axis, tuple(texts)]

    def manner(self, out: PanelSetOut, figures: Figures, *, figured: bool = True) -> Manner:
        """Return how the drawing of one of the drawn gang's parts is made."""
        found: dict[PlaceAxis, dict[str, str]] = {"u": {}, "v": {}}
        for axis, values in _figures(self.members):
            letter = self.letters.get((axis, tuple(map(figures.lengths.n, values))))
            if letter:
                found[axis][figures.of(values[self.drawn])] = letter
        mates = {li.number: f"{self.parts.mate_names(out)[li.number]}, {li.mate_surface}" for li in out.lines}
        return Manner(lengths=found["u"], widths=found["v"], mates=mates, figured=figured)


def kinds_of(
    gangs: Sequence[Gang], outs: Mapping[PanelId, PanelSetOut], parts: Parts, shown: Shown, figures: Figures
) -> list[Kind | Gang]:
    """Return every gang in order; those of one kind as one, where the first of them stands."""
    by_sign: dict[object, list[Gang]] = {}
    for gang in gangs:
        own = tuple(outs[p] for p in gang.panels)
        sign = _signature(own, parts, shown) if own[0].panel.role in _NAMES else None
        by_sign.setdefault(sign or gang.id, []).append(gang)
    found: list[Kind | Gang] = []
    for alike in by_sign.values():
        members = [tuple(outs[p] for p in gang.panels) for gang in alike]
        for some in _shared_out(list(zip(alike, members, strict=True))):
            both = [g for g, _ in some], [outs_of for _, outs_of in some]
            kind = Kind.of(*both, parts, shown, figures) if len(some) > 1 else None
            found += [kind] if kind else [gang for gang, _ in some]
    order = {g.id: n for n, g in enumerate(gangs)}
    return sorted(found, key=lambda one: order[(one.gangs[0] if isinstance(one, Kind) else one).id])


def _shared_out(alike: list[tuple[Gang, Outs]]) -> Iterator[list[tuple[Gang, Outs]]]:
    """Yield gangs of one kind in as many as a sheet holds."""
    while alike:
        taken = 1
        while taken < len(alike) and sum(len(outs) for _, outs in alike[: taken + 1]) <= _MOST_PARTS:
            taken += 1
        yield alike[:taken]
        alike = alike[taken:]


def _signature(outs: Outs, parts: Parts, shown: Shown) -> object:
    """Return all that is the same on parts of one kind; nothing where the parts of the gang differ in a figure."""
    if len({_line_figures(o, shown) for o in outs}) > 1:
        return None
    runs = tuple((numbers_of(run), is_even(run)) for run in runs_of(outs, shown))
    return tuple(_part_signature(out, parts, shown) for out in outs), runs


def _part_signature(out: PanelSetOut, parts: Parts, shown: Shown) -> object:
    panel = out.panel
    names = parts.mate_names(out)
    marks = tuple(
        (m.number, m.surface, m.what, way_words(m, shown), shown.n(m.w), bool(m.mate), parts.use_of(m, panel))
        if not m.joint
        else (m.number, m.surface, m.what, way_words(m, shown), shown.n(m.w), bool(m.mate))
        for m in out.marks
    )
    lines = tuple(
        (names[li.number], li.surface, li.mate_surface, li.across_length, li.face_side_line == li.near, on_line)
        for li, on_line in ((li, li.face_side_on_line) for li in out.lines)
    )
    edged = tuple(e.surface for e in panel.edged)
    return panel.role, panel.frame.is_mirrored, panel.board, panel.grain, edged, panel.twin is None, marks, lines


def _line_figures(out: PanelSetOut, shown: Shown) -> tuple[str, ...]:
    return tuple(shown.n(mm) for li in out.lines for mm in (li.near, li.far, li.start, li.end, li.face_side_line))


def _figures(members: Sequence[Outs]) -> Iterator[tuple[PlaceAxis, tuple[float, ...]]]:
    """Yield every figure of the first part of each gang: along which axis, and what it is on each."""
    firsts = [outs[0] for outs in members]
    yield "u", tuple(o.panel.length for o in firsts)
    yield "v", tuple(o.panel.width for o in firsts)
    for marks in zip(*(o.marks for o in firsts), strict=True):
        for axis in AXES:
            if axis != "w":
                both = [extent(m, o.panel, axis) for m, o in zip(marks, firsts, strict=True)]
                yield axis, tuple(low for low, _ in both)
                yield axis, tuple(high for _, high in both)
                yield axis, tuple(float(getattr(m, axis)) for m in marks)
    for lines in zip(*(o.lines for o in firsts), strict=True):
        across, along = line_axes(lines[0])
        for axis, ends in ((across, ("near", "far")), (along, ("start", "end"))):
            for end in ends:
                yield axis, tuple(float(getattr(li, end)) for li in lines)


def line_axes(line: JointLine) -> tuple[PlaceAxis, PlaceAxis]:
    """Return the axis across which a mate's line is measured, and the one along which it runs."""
    return ("u", "v") if line.across_length else ("v", "u")


def _is_plain(found: Mapping[tuple[PlaceAxis, tuple[str, ...]], tuple[float, ...]], n: int, figures: Figures) -> bool:
    """Return whether on the n-th gang no figure stands for two things, of which one has a letter."""
    seen: dict[tuple[PlaceAxis, str], set[tuple[str, ...]]] = {}
    for (axis, texts), values in found.items():
        seen.setdefault((axis, figures.of(values[n])), set()).add(texts)
    return all(len(keys) == 1 for keys in seen.values())


def marks_of(kind: Kind) -> list[str]:
    """Return the marks of all parts of a kind, in order."""
    return [o.panel.mark for o in chain.from_iterable(kind.members)]
