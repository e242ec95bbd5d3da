"""Source: a magazine's article on a partition in the middle of a panel, issue 122, 2001.

Where: its text (page not noted): biscuits 50 mm (2 in) from an edge.
"""

from __future__ import annotations

from storyrod.adapters.files.methods import packaged_methods


def test_biscuits_start_50_from_the_edge() -> None:
    method = next(m for m in packaged_methods() if m.code == "biscuits")

    assert method.rules is not None
    assert method.rules.end == 50.0
    assert 130 <= method.rules.pitch <= 180
