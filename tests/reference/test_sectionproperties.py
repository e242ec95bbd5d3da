"""Source: sectionproperties 3.10, an open-source program for sections.

Where: EI of a shelf with a lipping: 2.28399403e9 N mm2; the sags from it by hand. Row C10.
"""

from __future__ import annotations

import pytest

from storyrod.soundness._section import Part, section_of
from storyrod.soundness._span import sag


def test_c10_a_lipping_bends_with_its_shelf() -> None:
    """Also worked out with an open-source program for section properties: EI 2.28399403e9."""
    shelf = Part(width=300, height=18, stiffness_n_mm2=2200)
    lipped = section_of(shelf, Part(width=20, height=40, stiffness_n_mm2=12_300))

    assert lipped.axis == pytest.approx(13.9834, abs=1e-4)
    assert lipped.rigidity_n_mm2 == pytest.approx(2.283994e9, rel=1e-6)
    assert lipped.rigidity_n_mm2 / section_of(shelf).rigidity_n_mm2 == pytest.approx(7.1206, abs=1e-4)
    assert sag(0.33 * 1000, 1000, lipped.rigidity_n_mm2) == pytest.approx(1.8813, abs=1e-4)
    assert sag(0.33 * 1000, 1000, section_of(shelf).rigidity_n_mm2) == pytest.approx(13.3959, abs=1e-4)
