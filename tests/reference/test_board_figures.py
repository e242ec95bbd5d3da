"""Sources of the figures that stand in for a board's own.

- EN 312 type P2 (furniture, dry): density from the technical data of a European particleboard maker, Tables 1 and 3;
  least stiffness (2003 edition) from technical specification sheets of two particleboard sellers.
- EN 622-5 type MDF: data sheet of a European MDF maker, "classification according to EN 622-5", 2018 or later.
- EN 315: size and tolerance tables of two birch-plywood sellers; the formula from memory, which agrees with them.
- Birch plywood 680 kg/m3, across the grain 0.5 to 0.8 of along, MDF 730 and hardwood plywood 8000 N/mm2: from memory.
- Solid oak along the grain, 12.3 GPa: Wood Handbook, FPL-GTR-190, USDA Forest Service, 2010 (white oak), from memory.

A board of no known kind asks for its figures, and never falls back in silence.
"""

from __future__ import annotations

import pytest

from storyrod.adapters.files import job_from_text
from storyrod.adapters.files._boards import usual_density_kg_m3, usual_spread, usual_stiffness_n_mm2
from storyrod.faults import JobError
from storyrod.model.job import Board, BoardKind

WHITE_OAK_N_MM2 = 12_300


@pytest.mark.parametrize(
    ("thickness", "kg_m3"), [(12, 690), (15, 670), (16, 660), (18, 650), (19, 650), (22, 640), (25, 640)]
)
def test_density_of_chipboard_by_thickness(thickness: float, kg_m3: float) -> None:
    assert usual_density_kg_m3(BoardKind.CHIPBOARD, thickness) == kg_m3


@pytest.mark.parametrize(
    ("thickness", "n_mm2"),
    [(10, 1800), (12, 1800), (15, 1600), (18, 1600), (19, 1600), (22, 1500), (25, 1500), (28, 1350)],
)
def test_least_stiffness_of_chipboard(thickness: float, n_mm2: float) -> None:
    assert usual_stiffness_n_mm2(BoardKind.CHIPBOARD, thickness) == (n_mm2, n_mm2)


@pytest.mark.parametrize(
    ("thickness", "n_mm2"), [(8, 2700), (9, 2700), (12, 2500), (16, 2200), (19, 2200), (22, 2100), (38, 1900)]
)
def test_least_stiffness_of_mdf(thickness: float, n_mm2: float) -> None:
    assert usual_stiffness_n_mm2(BoardKind.MDF, thickness) == (n_mm2, n_mm2)


@pytest.mark.parametrize(
    ("length", "width", "thickness", "kind", "kg"),
    [
        (2440, 1220, 18, BoardKind.MDF, 39.12),
        (2800, 2070, 18, BoardKind.FACED_CHIPBOARD, 67.81),
        (2440, 1220, 18, BoardKind.PLYWOOD, 36.44),
        (2440, 1220, 6, BoardKind.MDF, 13.93),
    ],
)
def test_masses_of_whole_sheets(length: float, width: float, thickness: float, kind: BoardKind, kg: float) -> None:
    """Worked by hand: length x width x thickness x density, such as 2.44 x 1.22 x 0.018 x 730 = 39.12 kg."""
    density = usual_density_kg_m3(kind, thickness)

    assert density is not None
    assert length * width * thickness * 1e-9 * density == pytest.approx(kg, abs=0.01)


def test_chipboard_is_softer_than_mdf_than_plywood_than_oak() -> None:
    chipboard, mdf, plywood = (
        usual_stiffness_n_mm2(k, 18)[0] or 0 for k in (BoardKind.CHIPBOARD, BoardKind.MDF, BoardKind.PLYWOOD)
    )

    assert 0 < chipboard < mdf < plywood < WHITE_OAK_N_MM2


def test_plywood_is_softer_across_the_grain() -> None:
    along, across = usual_stiffness_n_mm2(BoardKind.PLYWOOD, 18)

    assert along == 8000
    assert across is not None
    assert 0.5 <= across / along <= 0.8


@pytest.mark.parametrize("thickness", [4, 6.5, 9, 12, 15, 18, 21, 24])
def test_plywood_that_is_not_measured_may_be_as_thin_as_the_standard_lets_it(thickness: float) -> None:
    """EN 315, sanded: at most 0.4 + 0.03 t under; the sellers' rounded tables agree within 0.06 mm."""
    tables = {12: 0.7, 15: 0.8, 18: 0.9, 21: 1.0, 24: 1.1}
    spread = usual_spread(BoardKind.PLYWOOD, thickness, measured=False)

    assert spread == pytest.approx(0.4 + 0.03 * thickness)
    assert spread == pytest.approx(tables.get(int(thickness), spread), abs=0.0601)


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
