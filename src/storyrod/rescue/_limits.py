"""What counts as a slip, and how near is near enough: common practice, no source, unless something else is said.

Lengths are mm.
"""

from __future__ import annotations

from typing import Final

NEAR: Final = 0.06
"""A cut so near to its place is in its place: a hair more than a tick of the bench log holds by."""

SIZE: Final = 0.3
"""A panel's length or width may be so far off before a joint stands open."""

TIGHT: Final = 0.05
"""So much thicker than its housing a panel still goes in."""

LOOSE: Final = 0.3
"""So much more play than planned a housing may have: what glue still fills."""

DEEP: Final = 1.5
"""A cut may be so much too deep before the connector sinks away in it."""

SQUARE: Final = 2.0
"""Diagonals may differ by so much: a case still closes on a panel that is a millimetre out."""

STANDS_OFF: Final = 0.1
"""A panel that is glued so near to its lines stands on them."""

PLUG_SIZES: Final = (6.0, 8.0, 10.0, 12.0, 15.0, 16.0, 20.0, 25.0, 30.0, 35.0)
"""Diameters of plugs: dowel rods, and plug cutters with the bits that go with them."""

BESIDE_PLUG: Final = 1.0
"""A new cut keeps so far from a plug's glue line, or lies wholly within the plug."""

PLUG_DRIES_MIN: Final = 60.0
"""Minutes in the clamp before a plug is planed flush; cutting into it waits for the glue's own full time."""

LEAST_STRIP: Final = 3.0
"""The thinnest strip that is glued on; what lacks less is planed back first."""

MOST_STRIP: Final = 20.0
"""The thickest strip: what lacks more is another panel."""

LEFT_IN_HOUSING: Final = 3.0
"""So much of a panel must stay in its housing at each end."""

LEAST_SHIM: Final = 0.4
"""The thinnest shim: a veneer."""

MOST_SHIM: Final = 3.0
"""The thickest shim that fills up a housing; beyond it a strip is let in, which is another joint."""
