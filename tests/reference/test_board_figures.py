"""Sources of the figures that stand in for a board's own.

- EN 312 type P2 (furniture, dry): density from the technical data of a European particleboard maker, Tables 1 and 3;
  least stiffness (2003 edition) from technical specification sheets of two particleboard sellers.
- EN 622-5 type MDF: data sheet of a European MDF maker, "classification according to EN 622-5", 2018 or later.
- Blockboard 550: common practice, no source. Hardboard 950 and its stiffness, low end of table 12-1: from memory.
- Birch plywood 680 kg/m3, across the grain 0.5 to 0.8 of along, MDF 730 and hardwood plywood 8000 N/mm2: from memory.
- Solid oak along the grain, 12.3 GPa: Wood Handbook, FPL-GTR-190, USDA Forest Service, 2010 (white oak), from memory.

A board of no known kind asks for its figures, and never falls back in silence.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from storyrod.adapters.files import job_from_text
from storyrod.faults import JobError
from storyrod.model.job import Board, BoardKind
from storyrod.trade.boards import least_strength_n_mm2, usual_density_kg_m3, usual_stiffness_n_mm2

WHITE_OAK_N_MM2 = 12_300


@pytest.mark.parametrize("kind", [BoardKind.CHIPBOARD, BoardKind.FACED_CHIPBOARD, BoardKind.MDF])
def test_chipboard_and_mdf_are_as_stiff_both_ways(kind: BoardKind) -> None:
    for thickness in (6, 10, 18, 22, 28, 38):
        along, across = usual_stiffness_n_mm2(kind, thickness)
        assert along == across is not None


@pytest.mark.parametrize(
    ("kind", "thickness", "kg_m3"),
    [
        (BoardKind.PLYWOOD, 18, 680),
        (BoardKind.BLOCKBOARD, 18, 550),
        (BoardKind.HARDBOARD, 3, 950),
        (BoardKind.SOLID, 20, None),
        (BoardKind.OTHER, 18, None),
    ],
)
def test_density_of_boards_that_have_one_figure_or_none(kind: BoardKind, thickness: float, kg_m3: float | None) -> None:
    assert usual_density_kg_m3(kind, thickness) == kg_m3


def test_chipboard_is_softer_than_mdf_than_plywood_than_oak() -> None:
    chipboard, mdf, plywood = (
        usual_stiffness_n_mm2(k, 18)[0] or 0 for k in (BoardKind.CHIPBOARD, BoardKind.MDF, BoardKind.PLYWOOD)
    )

    assert 0 < chipboard < mdf < plywood < WHITE_OAK_N_MM2


def test_plywood_is_softer_across_the_grain() -> None:
    along, across = usual_stiffness_n_mm2(BoardKind.PLYWOOD, 18)

    assert (along, across) == (8000, 5200)  # 0.65 across: birch plywood of 12 and 18 has 0.63 to 0.74 (from memory)


def test_hardboard_is_as_stiff_both_ways_and_blockboard_is_asked_for() -> None:
    assert usual_stiffness_n_mm2(BoardKind.HARDBOARD, 3) == (3100, 3100)
    assert usual_stiffness_n_mm2(BoardKind.BLOCKBOARD, 18) == (None, None)


@pytest.mark.parametrize(
    ("kind", "thickness", "n_mm2"),
    [
        *((BoardKind.FACED_CHIPBOARD, t, n) for t, n in ((18, 11), (38, 8.5))),
        (BoardKind.PLYWOOD, 18, 33.7),
        (BoardKind.HARDBOARD, 3, 31.0),
        (BoardKind.OTHER, 18, None),
        (BoardKind.SOLID, 20, None),
    ],
)
def test_least_bending_strength_of_boards_that_have_one_figure_or_none(
    kind: BoardKind, thickness: float, n_mm2: float | None
) -> None:
    """EN 312 type P2 (2010) and EN 622-5 type MDF; plywood and hardboard the low ends of the handbook's table 12-1."""
    assert least_strength_n_mm2(kind, thickness) == n_mm2


RANGES: dict[str, tuple[BoardKind, list[tuple[float, float]]]] = {
    "density": (BoardKind.CHIPBOARD, [(12.5, 690), (15.5, 670), (17, 660), (20, 650), (26, 640), (32, 620), (60, 605)]),
    "stiffness": (BoardKind.CHIPBOARD, [(13, 1800), (20, 1600), (25.5, 1500), (32.5, 1350), (60, 1200)]),
    "strength": (BoardKind.CHIPBOARD, [(20, 11), (25, 10.5), (32, 9.5), (60, 8.5)]),
    "density of mdf": (BoardKind.MDF, [(9, 780), (60, 730)]),
    "stiffness of mdf": (BoardKind.MDF, [(9, 2700), (12, 2500), (19, 2200), (30, 2100), (60, 1900)]),
    "strength of mdf": (BoardKind.MDF, [(9, 23), (12, 22), (19, 20), (30, 18), (60, 17)]),
}
"""To this thickness, so much: the ranges of EN 312 type P2 and EN 622-5 type MDF, as the sheets above print them."""


@pytest.mark.parametrize("what", RANGES)
def test_each_range_of_thickness_goes_just_to_its_end(what: str) -> None:
    kind, ranges = RANGES[what]
    told = {"density": usual_density_kg_m3, "stiffness": _stiffness, "strength": least_strength_n_mm2}[
        what.split(maxsplit=1)[0]
    ]

    for (end, value), (_, beyond) in pairwise(ranges):
        assert (told(kind, end), told(kind, end + 0.01)) == (value, beyond)
    assert told(kind, ranges[-1][0]) == ranges[-1][1]


def _stiffness(kind: BoardKind, thickness: float) -> float | None:
    return usual_stiffness_n_mm2(kind, thickness)[0]


@pytest.mark.parametrize("kind", [BoardKind.OTHER, BoardKind.SOLID])
def test_a_board_of_no_known_kind_asks_for_its_figures(kind: BoardKind) -> None:
    with pytest.raises(JobError) as caught:
        _board(f'kind = "{kind}"\nthickness = 18')

    assert [f.field for f in caught.value.faults] == ["boards.b.density_kg_m3"]
    given = _board(f'kind = "{kind}"\nthickness = 18\ndensity_kg_m3 = 500')
    assert given.stiffness_n_mm2 is None  # asked for where a shelf's sag is wanted
    assert given.named_figures == ()


def _board(lines: str) -> Board:
    text = f'[boards.b]\n{lines}\n[[cases]]\ncode = "A"\nwidth = 600\nheight = 720\ndepth = 400\n'
    return job_from_text(text, name="job.toml").job.boards[0]
