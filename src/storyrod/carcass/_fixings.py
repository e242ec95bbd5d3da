"""Which screws each fitting gets: the length of its sheet, or the longest kept that does not pierce the board.

A fitting is noted when its holes are bored, with the board there is for the tips of its screws. Which screws it gets
is settled last: by then it is known which of them meet others from a panel's other face.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from storyrod.model.feature import Feature, FeatureId, Hole
from storyrod.model.fixing import Fixing, FixingKind, Screws
from storyrod.model.panel import Panel
from storyrod.model.workshop import ScrewKind, Workshop

LEAST_HOLD = 4.0
"""A screw that goes less deep than this (mm) does not hold; common practice, no source."""

LEAST_HOLD_FRONT = 6.0
"""Least bite (mm) of a screw that carries a pull or a door; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Driven:
    """Screws that are wanted, before their length is known.

    Attributes:
        code: kind of screw.
        sheet: length that the fitting's sheet asks for; endless where the longest that fits is taken.
        seat: what lies under the head.
        board: thickness that the tip goes into.
        room: how deep the tip may go, so that the job's skin is left.
        least: less bite than this does not hold.
        place: path of the field that names the fitting, for a fault.
    """

    code: str
    count: int
    seat: float
    board: float
    room: float
    place: str
    sheet: float = math.inf
    least: float = LEAST_HOLD


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A fitting on a panel, its screws not yet chosen."""

    kind: FixingKind
    panel: Panel
    about: str
    item: str
    name: str
    where: str
    cause: str
    count: int = 1
    features: tuple[Feature, ...] = ()
    driven: Driven | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NoScrew:
    """Why a fitting gets no screw: `deepest` it may go, and what the kind has, or None where the kind is unknown."""

    draft: Draft
    driven: Driven
    deepest: float
    kind: ScrewKind | None


def settle(
    drafts: Iterable[Draft], workshop: Workshop, shallow: dict[FeatureId, float]
) -> tuple[tuple[Fixing, ...], tuple[NoScrew, ...]]:
    """Return every fitting with its screws, and those for which there is no screw.

    Args:
        drafts: the fittings.
        workshop: for the screws it keeps.
        shallow: how deep a screw may go at a cut that another meets from the panel's other face.
    """
    found: list[Fixing] = []
    without: list[NoScrew] = []
    for draft in drafts:
        screws = None
        if draft.driven is not None:
            deepest = min([draft.driven.room, *(shallow[f.id] for f in draft.features if f.id in shallow)])
            screws = _screws(draft, draft.driven, deepest, workshop)
            if screws is None:
                kind = workshop.screw(draft.driven.code)
                without.append(NoScrew(draft=draft, driven=draft.driven, deepest=deepest, kind=kind))
                continue
        found.append(
            Fixing(
                kind=draft.kind,
                panel=draft.panel.id,
                about=draft.about,
                item=draft.item,
                name=draft.name,
                count=draft.count,
                features=tuple(f.id for f in draft.features),
                screws=screws,
            )
        )
    return tuple(found), tuple(without)


def _screws(draft: Draft, driven: Driven, deepest: float, workshop: Workshop) -> Screws | None:
    """Return the longest screws that hold and do not pierce, or None."""
    kind = workshop.screw(driven.code)
    length = kind.longest(deepest, driven.seat, driven.sheet) if kind is not None else None
    if kind is None or length is None or length - driven.seat < driven.least:
        return None
    bored = next((f for f in draft.features if isinstance(f.shape, Hole) and not f.shape.through), None)
    marked = bored is not None and isinstance(bored.shape, Hole)
    bite = length - driven.seat
    return Screws(
        item=kind.item(length),
        count=driven.count,
        diameter=kind.diameter,
        length=length,
        seat=driven.seat,
        skin=driven.board - bite,
        pilot=bored.shape.diameter if bored is not None and isinstance(bored.shape, Hole) else kind.pilot,
        pilot_depth=bored.depth if bored is not None else float(math.floor(bite - kind.diameter / 2)),
        marked=marked,
        root=kind.root,
    )
