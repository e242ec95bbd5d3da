"""Source: EN 312, chipboard of type P2 for furniture in dry rooms.

Where: density: tables 1 and 3 in the technical data of a European maker; least stiffness (2003 edition) and limits of
thickness: technical sheets of two sellers and of makers; strength: 2010 edition, as the maker's data have it.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from storyrod.model.job import BoardKind
from storyrod.trade.boards import (
    least_strength_n_mm2,
    thickness_limits,
    usual_density_kg_m3,
    usual_spread,
    usual_stiffness_n_mm2,
)


@pytest.mark.parametrize("kind", [BoardKind.CHIPBOARD, BoardKind.FACED_CHIPBOARD])
def test_chipboard_is_as_stiff_both_ways(kind: BoardKind) -> None:
    for thickness in (6, 10, 18, 22, 28, 38):
        along, across = usual_stiffness_n_mm2(kind, thickness)
        assert along == across is not None


@pytest.mark.parametrize(("thickness", "n_mm2"), [(18, 11), (38, 8.5)])
def test_faced_chipboard_is_as_strong_as_its_core(thickness: float, n_mm2: float) -> None:
    assert least_strength_n_mm2(BoardKind.FACED_CHIPBOARD, thickness) == n_mm2


CHIPBOARD: dict[str, list[tuple[float, float]]] = {
    "density": [(12.5, 690), (15.5, 670), (17, 660), (20, 650), (26, 640), (32, 620), (60, 605)],
    "stiffness": [(13, 1800), (20, 1600), (25.5, 1500), (32.5, 1350), (60, 1200)],
    "strength": [(20, 11), (25, 10.5), (32, 9.5), (60, 8.5)],
}
"""To this thickness, so much."""


@pytest.mark.parametrize("what", CHIPBOARD)
def test_each_range_of_chipboard_goes_just_to_its_end(what: str) -> None:
    told = {"density": usual_density_kg_m3, "stiffness": _stiffness, "strength": least_strength_n_mm2}[what]

    for (end, value), (_, beyond) in pairwise(CHIPBOARD[what]):
        assert (told(BoardKind.CHIPBOARD, end), told(BoardKind.CHIPBOARD, end + 0.01)) == (value, beyond)
    assert told(BoardKind.CHIPBOARD, CHIPBOARD[what][-1][0]) == CHIPBOARD[what][-1][1]


def _stiffness(kind: BoardKind, thickness: float) -> float | None:
    return usual_stiffness_n_mm2(kind, thickness)[0]


@pytest.mark.parametrize(
    ("kind", "measured", "spread"),
    [
        (BoardKind.CHIPBOARD, False, 0.3),
        (BoardKind.CHIPBOARD, True, 0.3),
        (BoardKind.FACED_CHIPBOARD, False, 0.5),
        (BoardKind.FACED_CHIPBOARD, True, 0.3),
    ],
)
def test_half_the_range_of_chipboard(kind: BoardKind, measured: bool, spread: float) -> None:
    assert usual_spread(kind, 18, measured=measured) == pytest.approx(spread)


@pytest.mark.parametrize(
    ("kind", "limits"), [(BoardKind.CHIPBOARD, (0.3, 0.3)), (BoardKind.FACED_CHIPBOARD, (0.3, 0.5))]
)
def test_limits_of_chipboard(kind: BoardKind, limits: tuple[float, float]) -> None:
    assert thickness_limits(kind, 18) == limits
