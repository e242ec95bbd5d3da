"""Names of joints, jigs, gangs and set-ups that no panel has: J1, G1 and S1 beside a case with the code J, G or S."""

from __future__ import annotations

import re
from collections.abc import Iterable

from storyrod.model.panel import Panel


def number_before(letter: str, panels: Iterable[Panel]) -> int:
    """Return the number before the first of a series: 0, or a whole hundred where panels are marked like the series.

    Panels of a case J are marked J1, J2 and so on; a joint of that name would be taken for one of them on a card. So
    joints then begin at J101. Small and capital letters read alike.
    """
    alike = re.compile(rf"{letter}(\d+)", re.IGNORECASE)
    found = (alike.fullmatch(p.mark) for p in panels)
    highest = max((int(match[1]) for match in found if match is not None), default=0)
    return -(-highest // 100) * 100
