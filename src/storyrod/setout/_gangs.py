"""Gangs: panels with the same marks, which a maker lays together and marks in one go; and their rods."""

from __future__ import annotations

from collections.abc import Iterable

from storyrod.model.mark import Gang, Hand, JointLine, PanelSetOut, Rod, RodTick
from storyrod.model.panel import Surface
from storyrod.model.series import number_before


def find_gangs(panels: Iterable[PanelSetOut]) -> tuple[Gang, ...]:
    """Return the gangs of all panels with marks or lines, one without a match by itself, in order of first panel.

    A panel into which nothing is cut may still carry a line: the base on which a plinth is held by pocket screws.
    """
    every = tuple(panels)
    alike: dict[tuple[object, ...], list[PanelSetOut]] = {}
    for panel in every:
        if panel.marks or panel.lines:
            alike.setdefault(_signature(panel), []).append(panel)
    first = number_before("G", (p.panel for p in every)) + 1
    return tuple(_gang(n, members) for n, members in enumerate(alike.values(), start=first))


def _signature(panel: PanelSetOut) -> tuple[object, ...]:
    """Return what two panels must share to be marked together: size, and every mark from datum end and face edge.

    Where nothing is marked, it is the lines.
    """
    board = panel.panel
    marks = sorted((m.surface, m.what, m.u, m.v, m.w) for m in panel.marks)
    bare = () if marks else tuple(sorted((n.surface, n.near, n.far, n.start, n.end) for n in panel.lines))
    return (round(board.length, 3), round(board.width, 3), round(board.thickness, 3), tuple(marks), bare)


def _gang(number: int, members: list[PanelSetOut]) -> Gang:
    mirrored = len({m.panel.frame.is_mirrored for m in members}) > 1
    first = members[0].panel
    if len(members) == 1:
        why = "no other panel has the same marks"
    elif mirrored:
        why = "same marks from datum end and face edge, mirrored hands: lay them face edge to face edge"
    else:
        why = "same size and same marks, same hand: stack them and square the lines across all at once"
    names = " + ".join(m.panel.mark for m in members)
    return Gang(
        id=f"G{number}",
        name=f"{names}: {first.name}" if len(members) == 1 else names,
        panels=tuple(m.panel.id for m in members),
        hand=Hand.MIRRORED if mirrored else Hand.SAME,
        why=why,
    )


def rod_of(gang: Gang, panel: PanelSetOut) -> Rod:
    """Return the rod of a gang, worked out from one of its panels: lengths on one edge, widths on the other."""
    return Rod(
        gang=gang.id,
        name=gang.name,
        length=panel.panel.length,
        lengths=_ticks(panel, along_length=True),
        widths=_ticks(panel, along_length=False),
        width_length=panel.panel.width,
    )


def _ticks(panel: PanelSetOut, *, along_length: bool) -> tuple[RodTick, ...]:
    bands = [_band(line) for line in panel.lines if line.across_length is along_length]
    ends = (Surface.DATUM_END, Surface.FAR_END) if along_length else (Surface.FACE_EDGE, Surface.FAR_EDGE)
    points: dict[float, list[int]] = {}
    for mark in panel.marks:
        if mark.surface not in ends:  # on an end's own plane there is no place along this direction to measure
            points.setdefault(mark.u if along_length else mark.v, []).append(mark.number)
    ticks = [RodTick(at=at, label=_numbers(numbers)) for at, numbers in points.items()]
    return tuple(sorted(bands + ticks, key=lambda t: (t.at, not t.is_band_start, t.label)))


def _band(line: JointLine) -> RodTick:
    return RodTick(at=line.near, label=line.mate_mark, is_band_start=True, band_to=line.far)


def _numbers(numbers: list[int]) -> str:
    """Return mark numbers as a short list, runs joined: `1\u20133, 7`."""
    if len(numbers) == 1:
        return str(numbers[0])
    runs: list[list[int]] = []
    for value in sorted(set(numbers)):
        if runs and value == runs[-1][-1] + 1:
            runs[-1].append(value)
        else:
            runs.append([value])
    return ", ".join(f"{r[0]}\u2013{r[-1]}" if len(r) > 1 else str(r[0]) for r in runs)
