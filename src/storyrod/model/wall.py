"""How a case is fixed to the wall: where, how many fixings, into what, and what each must hold."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.model.panel import PanelId


@dataclass(frozen=True, slots=True, kw_only=True)
class WallFixing:
    """The fixings that keep a case from tipping: steel angle brackets between a level panel and the wall.

    Attributes:
        force_n: the worst pull of every condition examined, whether it decides on the caution or not.
        worst: that condition, in words.
        floor_n: no fixing is asked to hold less; `floor_from` says where the figure comes from.
        each_n: what each fixing must be allowed to hold, pulled straight out of the wall: the greater of the two,
            rounded up. Each is taken to carry the whole pull, since an open door at one end hangs on the nearest.
        height: of the screw in the wall, above the floor (mm).
        places: of the fixings, from the outside of the left side (mm).
        into: the panel that the brackets are screwed to; `under` says whether from below.
        screw_most: the longest screw that does not come through that panel (mm).
        through: the back that the screws to the wall pass, if any.
        straight: whether the screws to the wall pass that panel itself, an upright rail, without brackets.
        gap: room between what the bracket bears on and the wall, to be filled with a packer (mm).
    """

    force_n: float
    worst: str
    floor_n: float
    floor_from: str
    each_n: float
    height: float
    places: tuple[float, ...]
    into: PanelId
    under: bool
    screw_most: float
    through: PanelId | None
    gap: float
    straight: bool = False
