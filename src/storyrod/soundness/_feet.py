"""What the levelling feet of a case carry.

A stiff case on a floor that is not even stands on some of its feet alone until they are turned, and again when the
floor gives: half of them are taken to carry it all.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from storyrod.faults import Caution
from storyrod.model.detail import DetailedCase
from storyrod.model.feet import FeetLoad
from storyrod.model.panel import Role
from storyrod.model.soundness import Weights
from storyrod.model.workshop import Workshop

BEAR: Final = 0.5
"""Share of the feet that carry all of a case; common practice, no source."""


def feet_of(case: DetailedCase, weights: Weights, workshop: Workshop) -> FeetLoad | None:
    """Return what each foot of a case is asked for; None where it has none."""
    feet = case.built.feet
    kind = workshop.foot(feet[0].kind) if feet else None
    if kind is None:
        return None
    base = next(p for p in case.panels if p.role is Role.BASE)
    kg = weights.loaded_kg
    return FeetLoad(
        panel=base.id,
        kind=kind.code,
        kg=kg,
        count=len(feet),
        each_kg=kg / (BEAR * len(feet)),
        may_kg=kind.load_kg,
        enough=math.ceil(kg / (BEAR * kind.load_kg)),
    )


def feet_cautions(case_name: str, feet: FeetLoad | None) -> Iterator[Caution]:
    """Return a caution where a foot is asked for more than it carries."""
    if feet is not None and feet.overloaded:
        yield Caution(
            code="feet-overloaded",
            about=f"{case_name}, feet",
            text=f"{feet.kg:,.0f} kg stand on {feet.count} feet. On an uneven floor half of them may carry it all, "
            f"{feet.each_kg:,.0f} kg each, and one carries {feet.may_kg:,.0f} kg. An estimate.",
            do=f"Use {feet.enough} or more, by a smaller `apart`, or choose a stronger kind.",
            ids=(str(feet.panel),),
        )
