"""Source: Shelving spans for bookcases, tip page of a woodworking magazine.

Where: its text (page not noted): 20 lb a running foot. By the formula of the even load a shelf of 610 mm then sags
by a 265th of its span. Row C16.
"""

from __future__ import annotations

import pytest

from storyrod.model.thresholds import GRAVITY
from storyrod.soundness._loads import BOOKS_KG_M
from storyrod.soundness._section import plank
from storyrod.soundness._span import sag


def test_c16_a_shelf_of_books_sags_by_a_265th_of_its_span() -> None:
    """19 mm chipboard P2 (E 1600), 250 deep, span 610, 291.9 N/m: 2.302 mm, which is L/265."""
    assert BOOKS_KG_M * GRAVITY == pytest.approx(291.9, abs=0.05)
    down = sag(0.2919 * 610, 610, plank(250, 19, 1600).rigidity_n_mm2)

    assert down == pytest.approx(2.302, abs=0.005)
    assert 610 / down == pytest.approx(265, abs=0.5)
