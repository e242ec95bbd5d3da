"""Source: EN 622, fibreboards: part 5, type MDF, and part 1.

Where: data sheet of a European MDF maker, "classification according to EN 622-5", 2018 or later: stiffness and
strength. Part 1: limits of thickness of 0.2 to 19 mm by a mill's sheet, 0.3 above from memory. Density: from memory.
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


def test_mdf_is_as_stiff_both_ways() -> None:
    for thickness in (6, 10, 18, 22, 28, 38):
        along, across = usual_stiffness_n_mm2(BoardKind.MDF, thickness)
        assert along == across is not None


MDF: dict[str, list[tuple[float, float]]] = {
    "density": [(9, 780), (60, 730)],
    "stiffness": [(9, 2700), (12, 2500), (19, 2200), (30, 2100), (60, 1900)],
    "strength": [(9, 23), (12, 22), (19, 20), (30, 18), (60, 17)],
}
"""To this thickness, so much; density: from memory."""


@pytest.mark.parametrize("what", MDF)
def test_each_range_of_mdf_goes_just_to_its_end(what: str) -> None:
    told = {"density": usual_density_kg_m3, "stiffness": _stiffness, "strength": least_strength_n_mm2}[what]

    for (end, value), (_, beyond) in pairwise(MDF[what]):
        assert (told(BoardKind.MDF, end), told(BoardKind.MDF, end + 0.01)) == (value, beyond)
    assert told(BoardKind.MDF, MDF[what][-1][0]) == MDF[what][-1][1]


def _stiffness(kind: BoardKind, thickness: float) -> float | None:
    return usual_stiffness_n_mm2(kind, thickness)[0]


@pytest.mark.parametrize(("thickness", "spread"), [(9, 0.2), (19, 0.2), (22, 0.3)])
def test_half_the_range_of_mdf(thickness: float, spread: float) -> None:
    assert usual_spread(BoardKind.MDF, thickness, measured=False) == pytest.approx(spread)


@pytest.mark.parametrize(("thickness", "limits"), [(19, (0.2, 0.2)), (19.5, (0.3, 0.3)), (22, (0.3, 0.3))])
def test_limits_of_mdf(thickness: float, limits: tuple[float, float]) -> None:
    assert thickness_limits(BoardKind.MDF, thickness) == limits
