"""Source: common practice, no source: boards without a standard of their own.

Where: no book: blockboard 550 kg/m3. From memory: hardboard 950 kg/m3 and its stiffness (Wood Handbook, low end of
table 12-1), plywood 680 kg/m3, 8000 N/mm2 and 0.5 to 0.8 of it across the grain; how far sheets move in damp air.
"""

from __future__ import annotations

import pytest

from storyrod.adapters.files import job_from_text
from storyrod.faults import JobError
from storyrod.model.job import Board, BoardKind
from storyrod.trade.boards import least_strength_n_mm2, thickness_limits, usual_density_kg_m3, usual_stiffness_n_mm2
from storyrod.trade.moisture import sheet_movement

WHITE_OAK_N_MM2 = 12_300


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
        (BoardKind.PLYWOOD, 18, 33.7),
        (BoardKind.HARDBOARD, 3, 31.0),
        (BoardKind.OTHER, 18, None),
        (BoardKind.SOLID, 20, None),
    ],
)
def test_least_bending_strength_of_boards_that_have_one_figure_or_none(
    kind: BoardKind, thickness: float, n_mm2: float | None
) -> None:
    """Plywood and hardboard: the low ends of the Wood Handbook's table 12-1, from memory."""
    assert least_strength_n_mm2(kind, thickness) == n_mm2


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


@pytest.mark.parametrize(
    ("kind", "thickness", "limits"), [(BoardKind.BLOCKBOARD, 18, (0.94, 0.74)), (BoardKind.HARDBOARD, 3, (0.3, 0.3))]
)
def test_limits_of_other_boards(kind: BoardKind, thickness: float, limits: tuple[float, float]) -> None:
    """Blockboard as plywood, hardboard 0.3 either way."""
    assert thickness_limits(kind, thickness) == limits


@pytest.mark.parametrize(
    ("kind", "mm"),
    [
        (BoardKind.PLYWOOD, 1.5),
        (BoardKind.BLOCKBOARD, 1.5),
        (BoardKind.MDF, 4.0),
        (BoardKind.HARDBOARD, 4.0),
        (BoardKind.CHIPBOARD, 5.0),
        (BoardKind.FACED_CHIPBOARD, 5.0),
        (BoardKind.OTHER, 5.0),
    ],
)
def test_a_metre_of_sheet_from_35_to_85_percent(kind: BoardKind, mm: float) -> None:
    """The cautious ends of what is said of sheet goods, from memory; half as much air, half as much movement."""
    assert sheet_movement(1000, kind, 35, 85) == pytest.approx(mm)
    assert sheet_movement(1000, kind, 35, 60) == pytest.approx(mm / 2)
