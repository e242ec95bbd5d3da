"""Where each bought thing goes: every joint, edge and fitting that takes some of it, so that no amount is a riddle."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from storyrod.ledger._fittings_bought import fittings_of
from storyrod.ledger._materials import glue_of_joint_g
from storyrod.ledger._stages import edge_length
from storyrod.measure.writing import LengthWriter
from storyrod.model.batch import Trace
from storyrod.model.buying import GLUE
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.hung import Hanging
from storyrod.model.joint import Joint
from storyrod.model.wall import WallFixing
from storyrod.model.workshop import Workshop

type Bought = tuple[str, str]
"""The item of a line of the buying list and, where it is sold by its name and not by its item, that name; else ""."""


def trace_bought(
    details: Details, workshop: Workshop, walls: Mapping[str, WallFixing | Hanging]
) -> dict[Bought, tuple[Trace, ...]]:
    """Return where connectors, glue, edging and fittings go; amounts are of all copies, in the line's own unit."""
    found: dict[Bought, list[Trace]] = {}
    for case in details.cases:
        for key, trace in (
            *_of_joints(case),
            *_of_edges(case),
            *_of_fittings(case, workshop, details.job.lengths, walls.get(case.built.case.code)),
        ):
            found.setdefault(key, []).append(trace)
    return {key: tuple(traces) for key, traces in found.items()}


def _of_joints(case: DetailedCase) -> Iterator[tuple[Bought, Trace]]:
    code, copies = case.built.case.code, case.built.case.count
    for joint in case.joints:
        words = _joint_words(case, joint)
        for item, count in joint.connectors:
            yield (item, ""), Trace(case=code, about=str(joint.id), words=words, amount=count * copies)
        if joint.glue:
            grams = glue_of_joint_g(joint) * copies
            yield (GLUE, ""), Trace(case=code, about=str(joint.id), words=words, amount=grams)


def _joint_words(case: DetailedCase, joint: Joint) -> str:
    entering, receiving = case.panel(joint.entering), case.panel(joint.receiving)
    return f"{joint.number}: {entering.mark} {entering.name} to {receiving.mark} {receiving.name}"


def _of_edges(case: DetailedCase) -> Iterator[tuple[Bought, Trace]]:
    code, copies = case.built.case.code, case.built.case.count
    for panel in case.panels:
        for strip in panel.edged:
            metres = edge_length(panel, strip.surface) / 1000 * copies
            words = f"{panel.mark} {panel.name}, {strip.surface.value}"
            yield (strip.edging, ""), Trace(case=code, about=str(panel.id), words=words, amount=metres)


def _of_fittings(
    case: DetailedCase, workshop: Workshop, lengths: LengthWriter, wall: WallFixing | Hanging | None
) -> Iterator[tuple[Bought, Trace]]:
    code, copies = case.built.case.code, case.built.case.count
    for fitting, count in fittings_of(case.built, workshop, lengths, wall):
        key = (fitting.item, "" if fitting.is_priced_by_item else fitting.name)
        yield key, Trace(case=code, about="", words=fitting.where or fitting.name, amount=count * copies)
