"""Source: Screws, web page of the Canadian Wood Council.

Where: its paragraph on lead holes. Row E6. A lead hole of 70 % of the root's diameter in softwood, and of 90 % in
hardwood; one restatement reads both as of the thread's outside. That a wood screw's root is about two thirds of its
outside: Wood Handbook, FPL-GTR-190, 2010, chapter 8. The millimetres are worked out by hand.
"""

from __future__ import annotations

import pytest

from storyrod.trade.lead_hole import DRILL_STEP, lead_hole, root_of
from storyrod.trade.woods import CHANGE, SPECIES, is_softwood


@pytest.mark.parametrize(
    ("diameter", "root", "soft", "hard"),
    [
        (3.0, 2.0, 1.4, 1.8),
        (3.5, 2.333, 1.633, 2.1),
        (4.0, 2.667, 1.867, 2.4),
        (4.5, 3.0, 2.1, 2.7),
        (6.0, 4, 2.8, 3.6),
    ],
)
def test_e6_lead_holes(diameter: float, root: float, soft: float, hard: float) -> None:
    assert root_of(diameter) == pytest.approx(root, abs=0.0005)
    assert lead_hole(root_of(diameter), softwood=True) == pytest.approx(soft, abs=0.0005)
    assert lead_hole(root_of(diameter), softwood=False) == pytest.approx(hard, abs=0.0005)


def test_e6_of_a_root_that_was_measured() -> None:
    assert lead_hole(3.0, softwood=True) == pytest.approx(2.1)
    assert lead_hole(3.0, softwood=False) == pytest.approx(2.7)


def test_conifers_are_softwoods_and_all_others_hardwoods() -> None:
    soft = {"pine, ponderosa", "pine, red", "pine, shortleaf", "pine, slash", "pine, sugar", "pine, Virginia"}
    soft |= {"pine, western white", "redwood, old-growth", "redwood, young-growth"}
    soft |= {"Douglas-fir", "southern pine", "fir, white"}
    names = {*CHANGE, *(s.name for s in SPECIES)}

    assert {n for n in names if is_softwood(n)} == soft
    assert {n for n in names if is_softwood(n) is False} == names - soft


@pytest.mark.parametrize(
    ("words", "soft"),
    [
        ("Red oak lipping", False),
        ("yellow poplar", False),
        ("firm lipping, mahogany-coloured", None),
        ("softwood", True),
        ("hardwood 20", False),
        ("washed pine", True),
        ("Yellow-Poplar", False),
        ("pines, planed", True),
        ("planed timber", None),
    ],
)
def test_a_name_tells_its_wood_by_whole_words(words: str, soft: bool | None) -> None:
    assert is_softwood(words) is soft


def test_a_drills_step() -> None:
    """Common practice, no source: drills are kept by half millimetres."""
    assert DRILL_STEP == 0.5
