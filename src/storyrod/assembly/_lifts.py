"""How many people a step takes, and what its card says of the lift. Reminders: they certify nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.assembly._cautions import REMINDER
from storyrod.assembly._words import the
from storyrod.faults import Caution
from storyrod.measure.space import Axis
from storyrod.measure.writing import LengthWriter
from storyrod.model.panel import Panel
from storyrod.trade.lifting import (
    GUIDELINE_FILTER,
    SHARED,
    Grip,
    alone_kg,
    lifting_index,
    persons_to_lift,
    recommended_kg,
)

BEST: Final = max(GUIDELINE_FILTER, key=lambda guide: guide.men_close_kg)
"""The line of the guideline filter that allows most: close to the body at the waist."""


def panel_lift_kg(size: float) -> float:
    """Return the recommended weight of a part lifted from the floor to a bench at 90 cm, hands 30 cm up to begin with.

    `size` (mm) is how far the part reaches away from the body: hands are 25 cm before the ankles and half of it more.
    """
    return recommended_kg(away_cm=min(63.0, 25 + size / 20), height_cm=30.0, travel_cm=60.0, grip=Grip.FAIR)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """Panels that are handled as one: laid, brought, turned, stood up or hung.

    Attributes:
        mass_kg: what they weigh together.
        one_person_kg: what one person lifts here of a part that is held close.
        lengths: how the job writes lengths.
        driving: one hand holds them up while the other drives screws, or guides them home.
    """

    panels: Sequence[Panel]
    mass_kg: float
    one_person_kg: float
    lengths: LengthWriter
    driving: bool = False

    @property
    def persons(self) -> int:
        """How many people it takes: by mass, by length, by hands, or where the equation advises less for one."""
        least = 2 if lifting_index(self.mass_kg, self._recommended) > 1 else 1
        return max(least, persons_to_lift(self.mass_kg, self._longest, self.one_person_kg, driving=self.driving))

    def cautions(self) -> tuple[Caution, ...]:
        """Return the caution for a lift that is not for one person, or none."""
        if self.persons < 2:
            return ()
        ids = tuple(p.id for p in self.panels)
        return (Caution(code="lift", about=the(self.panels), text=self._why, do=f"{self._do} {REMINDER}", ids=ids),)

    @property
    def _extents(self) -> list[float]:
        boxes = [p.box for p in self.panels]
        return sorted(max(b.span(a)[1] for b in boxes) - min(b.span(a)[0] for b in boxes) for a in Axis)

    @property
    def _longest(self) -> float:
        return self._extents[-1]

    @property
    def _recommended(self) -> float:
        return panel_lift_kg(self._extents[0])

    @property
    def _why(self) -> str:
        mass = f"{self.mass_kg:.1f} kg"
        if self.mass_kg > self.one_person_kg:
            return f"{mass}, more than the {self.one_person_kg:g} kg set for one person here."
        if self.mass_kg > alone_kg(self._longest, self.one_person_kg):
            length = self.lengths.told(round(self._longest))
            return f"{mass} and {length} long: one person cannot hold both ends."
        if lifting_index(self.mass_kg, self._recommended) > 1:
            return (
                f"{mass} from floor to bench is more than the {self._recommended:.0f} kg that the NIOSH equation"
                f" recommends for such a lift (guideline filter, close to the body at the waist:"
                f" {BEST.men_close_kg:g} kg for men, {BEST.women_close_kg:g} kg for women)."
            )
        return f"{mass}, held up with one hand while the other works."

    @property
    def _do(self) -> str:
        if self.mass_kg > self.one_person_kg:
            aid = ", or with a lifting aid" if self.mass_kg > 2 * BEST.men_close_kg * SHARED else ""
            return f"Lift with {self.persons} people{aid}."
        return "Take a second person."
